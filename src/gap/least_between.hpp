// A function's least between two places that it has one least between.
#pragma once
#include <cmath>
#include <utility>

namespace eyebrow::gap {

/// Golden section: the place, good to the square root of rounding, and the value there.
template <class Function>
std::pair<double, double> least_between(double from, double to, const Function& function) {
  constexpr double kShare = 0.6180339887498949, kEnd = 1e-8;
  double a = to - kShare * (to - from), b = from + kShare * (to - from);
  double at_a = function(a), at_b = function(b);
  while (to - from > kEnd) {
    if (at_a <= at_b) {
      to = b;
      b = a;
      at_b = at_a;
      a = to - kShare * (to - from);
      at_a = function(a);
    } else {
      from = a;
      a = b;
      at_a = at_b;
      b = from + kShare * (to - from);
      at_b = function(b);
    }
  }
  return at_a <= at_b ? std::pair{a, at_a} : std::pair{b, at_b};
}

}  // namespace eyebrow::gap
