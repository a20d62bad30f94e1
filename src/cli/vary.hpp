// "KEY=FROM:TO:STEP": an input over a range.
#pragma once
#include <string>

#include "eyebrow/map.hpp"

namespace eyebrow::cli {

/// The unit is the one that any of the three numbers has, empty where none has. Throws UsageError.
Varied parse_vary(const std::string& option, const std::string& text);

/// A value of it as --set takes it.
std::string set_text(const Varied& input, double value);

}  // namespace eyebrow::cli
