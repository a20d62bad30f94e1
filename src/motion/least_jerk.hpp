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

/// The second half of it: knots whose lifts rise to one maximum and fall get other velocities and accelerations where a
/// piece would turn back.
void go_one_way(std::vector<LiftKnot>& knots);

/// The integral of squared jerk over a piece of length h, times h^5, is the quadratic form with this matrix in lift,
/// velocity * h and acceleration * h^2 at its beginning and at its end.
inline constexpr double kJerkForm[6][6] = {{720, 360, 60, -720, 360, -60}, {360, 192, 36, -360, 168, -24},
                                           {60, 36, 9, -60, 24, -3},       {-720, -360, -60, 720, -360, 60},
                                           {360, 168, 24, -360, 192, -36}, {-60, -24, -3, 60, -36, 9}};

}  // namespace eyebrow::motion
