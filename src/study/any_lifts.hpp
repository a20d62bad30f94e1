// Two valves, each at any lift from closed to its own greatest.
#pragma once
#include "study/pairs.hpp"

namespace eyebrow::study {

struct AnyLiftsLeast {
  double value = NAN;
  double proven = NAN;           ///< at no two lifts within half a micrometre of the range is the gap less
  double first = 0, second = 0;  ///< the lifts
};

/// Branch and bound over both lifts, by the distance's Lipschitz bound and its semiconcavity. Stops at the first two
/// lifts at which the valves touch: how deep they would run into each other says nothing.
AnyLiftsLeast least_at_any_lifts(const ValvePair& pair, Vec3 first_up, Vec3 second_up, double first_greatest,
                                 double second_greatest);

}  // namespace eyebrow::study
