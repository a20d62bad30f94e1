// The scale along one side of a plot: pure numbers.
#pragma once
#include <string>
#include <vector>

namespace eyebrow::plot {

/// Greater than this a number is taken as one that is not there: no length or angle of an engine comes near.
inline constexpr double kPlotLimit = 1e9;
/// Is it a number that can be drawn?
bool drawable(double value);

/// The stretch of values that a plot shows.
struct Range {
  double from = 0, to = 0;
};

/// The least stretch around the values that can be drawn; `fallback` where there are none.
Range range_of(const std::vector<double>& values, Range fallback);
/// Wide enough to be drawn: a stretch that is narrower than a millionth of its place is widened on both sides.
Range widened(Range range);

/// Values `from` ... `to` lie on the page from `start` to `end`, in points; straight between and beyond.
struct Axis {
  double from = 0, to = 1;
  double start = 0, end = 1;
  double place(double value) const { return start + (value - from) / (to - from) * (end - start); }
  double value(double place) const { return from + (place - start) / (end - start) * (to - from); }
};

/// The least step of 1, 2 or 5 times a power of ten that divides `range` into at most `most` parts.
double tick_step(double range, int most);
/// The multiples of `step` within the range, a hair beyond its ends included.
std::vector<double> ticks(Range range, double step);
/// A tick's number with just the decimals that its step needs.
std::string tick_text(double value, double step);

}  // namespace eyebrow::plot
