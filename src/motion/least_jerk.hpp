// The smoothest lift curve through given points.
#pragma once
#include <vector>

#include "eyebrow/motion.hpp"

namespace eyebrow::motion {

struct LiftPoint {
  double angle = 0, lift = 0;
};

/// The quintic chain through the points (rising angles, at least three) with zero velocity and acceleration at the
/// first and last, and the least integral of squared jerk: continuous up to the fourth derivative. Where that chain
/// would turn back between two points, these two get zero acceleration and the lesser of their neighbouring slopes
/// instead, so that each piece rises or falls all the way as its points do. Only beside the greatest point may a piece
/// go on rising and then fall, with its acceleration negative throughout.
std::vector<LiftKnot> least_jerk(const std::vector<LiftPoint>& points);

}  // namespace eyebrow::motion
