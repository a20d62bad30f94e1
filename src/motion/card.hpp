// What a cam card says of each flank.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "motion/least_jerk.hpp"

namespace eyebrow::motion {

/// Angles from the lobe centre outward, crank radians, rising; lifts falling.
struct CardFlank {
  std::vector<LiftPoint> points;
  double end = NAN;  ///< closed; NaN = not stated
};

struct Card {
  CardFlank opening, closing;
  bool symmetric = true;
};

/// Faults, with the lobe's key in front, where the numbers go with no lobe.
Card card_of(const Lobe& lobe, std::vector<Fault>& faults);

}  // namespace eyebrow::motion
