// What a user may write after an option.
#pragma once
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "eyebrow/engine.hpp"
#include "options.hpp"

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

/// "1.5mm", "0.060 in": mm, from `least` to `most`. The unit must stand there.
double parse_length(const std::string& option, const std::string& text, double least, double most);

/// Several with commas between.
std::vector<double> parse_lengths(const std::string& option, const std::string& text, double least, double most);

/// Degrees, 0 to 45: radians.
double parse_tilt(const std::string& option, const std::string& text);

/// "99.9%": 0.999. From half of all to all but one in 100,000.
double parse_share(const std::string& option, const std::string& text);

/// A file name that ends in .step or .stp.
std::string parse_step_file(const std::string& option, const std::string& text);

/// A file name that ends in .svg, .pdf or .png.
std::string parse_picture(const std::string& option, const std::string& text);

/// A crank angle as parse_crank, "tightest" or "tightest:NAME".
PlaceInCycle parse_at(const std::string& option, const std::string& text);

/// "1600x1000": pixels.
std::pair<int, int> parse_size(const std::string& option, const std::string& text);

/// "FROM:TO:STEP", two crank angles and degrees: every angle from one to the other, radians.
std::vector<double> parse_cycle(const std::string& option, const std::string& text);

/// Where a picture is cut open: "x=LENGTH" (or y, z), "VALVE" or "VALVE@HOURS". The text as it is: which valves there
/// are the engine file tells.
std::string parse_section(const std::string& option, const std::string& text);

/// How many pictures one turn around takes.
int parse_spin(const std::string& option, const std::string& text);

/// One of these words.
std::string parse_word(const std::string& option, const std::string& text, const std::vector<std::string>& words);

/// A file name that ends in .png; where several pictures follow each other also in .mp4, .webm or .gif.
std::string parse_picture_or_film(const std::string& option, const std::string& text, bool several);

/// A file name; refuses an empty one and an option that was taken for one.
std::string parse_path(const std::string& option, const std::string& text);

}  // namespace eyebrow::cli
