// The verdict in words.
#pragma once
#include <string>

#include "eyebrow/report.hpp"

namespace eyebrow {

/// The verdict, the asked gaps that do not hold, the conditions it stands under, and the caution.
std::string verdict_text(const CheckResult& result, const Format& format);

}  // namespace eyebrow
