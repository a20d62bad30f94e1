#include "stack_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eyebrow {
namespace {

/// Per cent, two figures, never in powers of ten; "rounded" up or down by the caller's choice of function.
std::string per_cent(double share, double (*whole)(double)) {
  const double value = 100 * share;
  if (!(value > 0)) return "0";
  const int digits = std::clamp(1 - static_cast<int>(std::floor(std::log10(value))), 0, 9);
  const double scale = std::pow(10, digits);
  return fmt::format("{:.{}f}", whole(value * scale) / scale, digits);
}

double nearest(double value) {
  return std::round(value);
}
/// A hair's breadth of rounding makes no next figure.
double up(double value) {
  return std::ceil(value - 1e-9);
}
double down(double value) {
  return std::floor(value + 1e-9);
}

}  // namespace

StackNumber stack_number(const StackResult& stack, std::size_t i) {
  return i < stack.numbers.size() ? stack.numbers[i] : StackNumber{};
}

std::string share_text(double share) {
  return per_cent(share, nearest) + " %";
}

std::string below_text(const StackGap& gap) {
  if (!std::isfinite(gap.share)) return "";
  if (gap.high == 0) return "none";
  if (gap.share == 0 && gap.low == 0) return fmt::format("none (up to {} %)", per_cent(gap.high, up));
  return fmt::format("{} ({}-{})", share_text(gap.share), per_cent(gap.low, down), per_cent(gap.high, up));
}

std::string off_text(double mm, LengthUnit unit) {
  return unit == LengthUnit::inch ? fmt::format("{:.5f} in", std::ceil(mm / kInch * 1e5 - 1e-6) / 1e5)
                                  : fmt::format("{:.1f} um", std::ceil(mm * 1e4 - 1e-6) / 10);
}

bool moves(const StackGap& gap) {
  return gap.exact || !gap.parts.empty();
}

}  // namespace eyebrow
