#include "words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eyebrow {
namespace {

// A share of the last decimal. Changing units leaves noise of 1e-13; without this slack 0.041 in, kept as
// 1.0413999999999999 mm, would print as 0.040.
constexpr double kNoise = 1e-6;

double decimals(int digits) {
  return std::pow(10.0, digits);
}

// `units` is whole; adding zero turns -0 into 0.
std::string decimal(double units, int digits) {
  return fmt::format("{:.{}f}", units / decimals(digits) + 0.0, digits);
}

}  // namespace

Lengths::Lengths(const Format& format)
    : per_mm_(format.units == LengthUnit::inch ? 1 / kInch : 1.0),
      digits_(format.digits >= 0 ? format.digits : (format.units == LengthUnit::inch ? 3 : 2)),
      unit_(format.units == LengthUnit::inch ? "in" : "mm") {}

std::string Lengths::gap(double mm) const {
  if (!std::isfinite(mm)) return "";
  double units = std::floor(mm * per_mm_ * decimals(digits_) + kNoise);
  if (mm < 0 && units >= 0) units = -1;
  return decimal(units, digits_);
}

std::string Lengths::required(double mm) const {
  if (!std::isfinite(mm)) return "";
  return decimal(std::ceil(mm * per_mm_ * decimals(digits_) - kNoise), digits_);
}

std::string Lengths::plain(double mm) const {
  if (!std::isfinite(mm)) return "";
  return decimal(std::round(mm * per_mm_ * decimals(digits_)), digits_);
}

std::string Lengths::place(double mm) const {
  if (!std::isfinite(mm)) return "";
  const int digits = digits_ > 0 ? digits_ - 1 : 0;
  return decimal(std::round(mm * per_mm_ * decimals(digits)), digits);
}

namespace {

/// Decimals that show so many figures of a number.
int decimals_for(double value, int figures) {
  return value > 0 ? std::clamp(figures - 1 - static_cast<int>(std::floor(std::log10(value) + kNoise)), 0, 9) : 0;
}

}  // namespace

std::string Lengths::volume(double mm3) const {
  const double value = mm3 * per_mm_ * per_mm_ * per_mm_;
  const int digits = decimals_for(value, 3);
  return fmt::format("{} {}3", decimal(std::round(value * decimals(digits)), digits), unit_);
}

std::string Lengths::volume_error(double mm3) const {
  const double value = mm3 * per_mm_ * per_mm_ * per_mm_;
  const int digits = decimals_for(value, 1);
  return fmt::format("{} {}3", decimal(std::ceil(value * decimals(digits) - kNoise), digits), unit_);
}

std::string crank_text(double crank, int digits) {
  if (!std::isfinite(crank)) return "";
  // Round first, then wrap: 359.97 and -360 are the same place and must read the same.
  const double whole_cycle = 720 * decimals(digits);
  double units = std::round(crank / kDegree * decimals(digits));
  units -= whole_cycle * std::ceil(units / whole_cycle - 0.5);  // now in (-360, 360] degrees
  const char* word = units > 0 ? "ATDC" : units < 0 ? "BTDC" : "TDC";
  return fmt::format("{} {}", decimal(std::fabs(units), digits), word);
}

std::string clock_text(double hours) {
  const int quarters = static_cast<int>(std::lround(hours * 4)) % 48;
  const int hour = quarters / 4 == 0 ? 12 : quarters / 4;
  const int minutes = quarters % 4 * 15;
  return minutes == 0 ? fmt::format("{} o'clock", hour) : fmt::format("{}:{:02} o'clock", hour, minutes);
}

std::string degrees_text(double radians) {
  const double rounded = std::round(radians / kDegree * 1e4) / 1e4 + 0.0;
  return fmt::format("{:g}", rounded);
}

std::string advance_text(double advance) {
  const std::string degrees = degrees_text(std::round(std::fabs(advance) / kDegree * 10) / 10 * kDegree);
  if (degrees == "0") return "unmoved";
  return fmt::format("{} {} deg", advance > 0 ? "advanced" : "retarded", degrees);
}

const char* to_word(GapStatus status) {
  switch (status) {
    case GapStatus::measured:
      return "measured";
    case GapStatus::jump:
      return "jump";
    case GapStatus::not_in_reach:
      return "not_in_reach";
    case GapStatus::no_meeting:
      return "no_meeting";
    case GapStatus::not_asked:
      return "not_asked";
  }
  return "?";
}

}  // namespace eyebrow
