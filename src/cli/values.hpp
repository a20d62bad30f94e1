// What a user may write after an option.
#pragma once
#include <cstdint>
#include <string>

#include "eyebrow/engine.hpp"

namespace eyebrow::cli {

// Each throws UsageError that says what was read and what is allowed.

/// "12.5ATDC", "8 btdc", "TDC", "-12.5" (degrees, negative = before): radians, within one cycle.
double parse_crank(const std::string& option, const std::string& text);

/// Degrees of crank between two samples: radians.
double parse_step(const std::string& option, const std::string& text);

/// "mm" or "in".
LengthUnit parse_units(const std::string& option, const std::string& text);

/// Decimals of a length.
int parse_digits(const std::string& option, const std::string& text);

/// Engines that are drawn: 100 ... 1,000,000.
std::size_t parse_samples(const std::string& option, const std::string& text);

/// A whole number, 0 or more.
std::uint64_t parse_seed(const std::string& option, const std::string& text);

/// A file name that ends in .step or .stp.
std::string parse_step_file(const std::string& option, const std::string& text);

/// A file name that ends in .svg, .pdf or .png.
std::string parse_picture(const std::string& option, const std::string& text);

/// A file name; refuses an empty one and an option that was taken for one.
std::string parse_path(const std::string& option, const std::string& text);

}  // namespace eyebrow::cli
