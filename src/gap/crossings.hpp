// Where a function of one variable passes through zero, all of it, when its second derivative is bounded.
#pragma once
#include <cmath>

namespace eyebrow::gap {

/// Between two places with values of either sign: regula falsi, an end that stays put counting half (Illinois).
/// `end`: how near the places come together; `flat`: a value that is none.
template <class Function>
double zero_between(const Function& function, double from, double at_from, double to, double at_to, double end,
                    double flat) {
  constexpr int kMostSteps = 60;
  double place = to;
  int stayed = 0;  // > 0: `to` did, < 0: `from`
  for (int i = 0; i < kMostSteps && to - from > end && at_to != 0; ++i) {
    place = from + (to - from) * at_from / (at_from - at_to);
    const double at = function(place);
    if (std::fabs(at) < flat) break;
    if ((at > 0) == (at_from > 0)) {
      from = place;
      at_from = at;
      if (stayed > 0) at_to *= 0.5;
      stayed = 1;
    } else {
      to = place;
      at_to = at;
      if (stayed < 0) at_from *= 0.5;
      stayed = -1;
    }
  }
  return place;
}

/// take(from, at_from, to, at_to) for each stretch that the function passes zero in once, in their order. `bend`: of
/// the second derivative, at most. Two passings between which the function stays below `least` may be missed.
template <class Function, class Take>
void crossings(const Function& function, double from, double at_from, double to, double at_to, double bend,
               double least, const Take& take) {
  const double width = to - from, sag = bend * width * width / 8;  // off the straight line between the ends
  const bool passes = (at_from > 0) != (at_to > 0);
  if (!passes && std::fmin(std::fabs(at_from), std::fabs(at_to)) > sag) return;
  const bool one_way = std::fabs(at_to - at_from) > 4 * sag;
  if (one_way || sag < least) {
    if (passes) take(from, at_from, to, at_to);
    return;
  }
  const double middle = 0.5 * (from + to), at_middle = function(middle);
  crossings(function, from, at_from, middle, at_middle, bend, least, take);
  crossings(function, middle, at_middle, to, at_to, bend, least, take);
}

}  // namespace eyebrow::gap
