// Which asked gap belongs to which line of a report.
#pragma once
#include <string>
#include <utility>

#include "eyebrow/check.hpp"

namespace eyebrow {

/// The asked gap `what` of `valve` (empty for the head, "first / second" for a pair); null when none was asked.
const AskedRow* find_asked(const CheckResult& result, const std::string& what, const std::string& valve);

/// "first / second", as AskedRow::valve names a pair.
std::string pair_name(const PairResult& pair);

/// The least gap that a row tells; null where there is none, for piston to head, and for the running engine.
const Minimum* minimum_of(const CheckResult& result, const AskedRow& row);

/// The numbers of the valves that a row is of (into CheckResult::valves); -1: none, or not two.
std::pair<int, int> valves_of(const CheckResult& result, const AskedRow& row);

/// The row whose place an engine is shown at first: of those that are tightest with a valve open, or do not hold, the
/// one with the least margin; where there is none tightest_row. Null where that is.
const AskedRow* row_to_show(const CheckResult& result);

/// "intake, travel", with ", running" where the row is of the running engine: names shortened and fit for a terminal.
std::string row_name(const AskedRow& row);

/// "holds", "SHORT" or "CONTACT"; empty when nothing was asked and the parts stay apart. `touches`: the parts do.
const char* mark(const AskedRow* asked, bool touches);

}  // namespace eyebrow
