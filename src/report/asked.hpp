// Which asked gap belongs to which line of a report.
#pragma once
#include <string>

#include "eyebrow/check.hpp"

namespace eyebrow {

/// The asked gap `what` of `valve` (empty for the head, "first / second" for a pair); null when none was asked.
const AskedRow* find_asked(const CheckResult& result, const std::string& what, const std::string& valve);

/// "first / second", as AskedRow::valve names a pair.
std::string pair_name(const PairResult& pair);

/// "intake, travel", with ", running" where the row is of the running engine: names shortened and fit for a terminal.
std::string row_name(const AskedRow& row);

/// "holds", "SHORT" or "CONTACT"; empty when nothing was asked and the parts stay apart. `touches`: the parts do.
const char* mark(const AskedRow* asked, bool touches);

}  // namespace eyebrow
