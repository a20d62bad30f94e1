// A convex function of one number: its least, and where it is not positive.
#pragma once
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace eyebrow::gap {

/// A value with a slope of a line that lies nowhere above the function.
struct Tangent {
  double value, slope;
};

struct Lowest {
  double at, value;  ///< the least that was met
  double bound;      ///< no value is less
};

/// `function`: number to Tangent. By the tangents from either side, halving where they do not help. Ends where a value
/// below `enough` is met, or none below `useless` can be.
template <class Function>
Lowest lowest_between(double low, double high, const Function& function, double enough, double useless) {
  constexpr int kMost = 100;
  constexpr double kSame = 1e-12;
  struct Cut {
    bool known = false;
    double t = 0, value = 0, slope = 0;
  } left, right;
  Lowest lowest{low, INFINITY, -INFINITY};
  double t = 0.5 * (low + high);
  for (int i = 0; i < kMost; ++i) {
    const Tangent here = function(t);
    if (here.value < lowest.value) {
      lowest.at = t;
      lowest.value = here.value;
    }
    if (here.slope == 0) lowest.bound = here.value;
    if (here.slope == 0 || lowest.value < enough) return lowest;
    (here.slope < 0 ? left : right) = {true, t, here.value, here.slope};
    (here.slope < 0 ? low : high) = t;
    double next = 0.5 * (low + high);
    if (left.known && right.known) {
      const double meet =
          (right.value - left.value + left.slope * left.t - right.slope * right.t) / (left.slope - right.slope);
      lowest.bound = left.value + left.slope * (meet - left.t);
      // In turn with halving: a tangent from afar may point to where the other one stands.
      if (i % 3 != 2 && meet > low && meet < high) next = meet;
    } else {
      const Cut& cut = left.known ? left : right;
      lowest.bound = cut.value + std::min(cut.slope * (low - cut.t), cut.slope * (high - cut.t));
      if (i == 0) next = left.known ? high : low;
    }
    if (lowest.bound >= std::min(useless, lowest.value - kSame) || high - low < kSame) return lowest;
    t = next;
  }
  return lowest;
}

/// Between `from`, where a convex function is positive, and `to`, where it is not: where it turns, on that side of it.
/// A tangent falls short, a chord goes too far.
template <class Function>
double turn_between(double from, double to, const Function& function) {
  constexpr int kMost = 100;
  constexpr double kSame = 1e-12;
  double beyond = function(to).value;
  for (int i = 0; i < kMost && std::fabs(to - from) > kSame; ++i) {
    const Tangent out = function(from);
    const double chord = from + out.value / (out.value - beyond) * (to - from);
    const double step = out.slope != 0 ? -out.value / out.slope : 0;
    if (step * (to - from) > 0 && std::fabs(step) < std::fabs(to - from)) from += step;
    for (const double t : {chord, 0.5 * (from + to)}) {
      if ((t - from) * (to - t) <= 0) continue;
      const double value = function(t).value;
      if (value > 0) {
        from = t;
      } else {
        to = t;
        beyond = value;
      }
    }
  }
  return to;
}

/// The stretch of [low, high] where a convex function is not positive.
template <class Function>
std::optional<std::pair<double, double>> not_positive(double low, double high, const Function& function) {
  const Lowest lowest = lowest_between(low, high, function, 0.0, 0.0);
  if (!(lowest.value <= 0)) return std::nullopt;
  const double first = function(low).value > 0 ? turn_between(low, lowest.at, function) : low;
  const double last = function(high).value > 0 ? turn_between(high, lowest.at, function) : high;
  return std::pair{first, last};
}

}  // namespace eyebrow::gap
