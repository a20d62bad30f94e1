#include "plot_axis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eyebrow::plot {
namespace {

// A share of a step, for ticks at the very end of a range that rounding put beyond it.
constexpr double kHair = 1e-6;

}  // namespace

bool drawable(double value) {
  return std::isfinite(value) && std::fabs(value) <= kPlotLimit;
}

Range range_of(const std::vector<double>& values, Range fallback) {
  Range range{INFINITY, -INFINITY};
  for (const double value : values) {
    if (!drawable(value)) continue;
    range = {std::fmin(range.from, value), std::fmax(range.to, value)};
  }
  return range.from <= range.to ? range : fallback;
}

Range widened(Range range) {
  const double size = std::fmax(std::fabs(range.from), std::fabs(range.to));
  if (range.to - range.from > 1e-6 * size) return range;
  const double by = size > 0 ? 0.1 * size : 1;
  return {range.from - by, range.to + by};
}

double tick_step(double range, int most) {
  const double raw = range / most;
  const double ten = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double each : {1.0, 2.0, 5.0})
    if (each * ten >= raw * (1 - kHair)) return each * ten;
  return 10 * ten;
}

std::vector<double> ticks(Range range, double step) {
  std::vector<double> out;
  const double first = std::ceil(range.from / step - kHair), last = std::floor(range.to / step + kHair);
  for (double i = first; i <= last; ++i) out.push_back(i * step + 0.0);
  return out;
}

std::string tick_text(double value, double step) {
  const double rounded = std::round(value / step) * step + 0.0;
  if (step >= 1e6) return fmt::format("{:g}", rounded);
  const int decimals = static_cast<int>(std::ceil(-std::log10(step) - kHair));
  if (decimals > 6) return fmt::format("{:g}", rounded);
  return fmt::format("{:.{}f}", rounded, std::max(decimals, 0));
}

}  // namespace eyebrow::plot
