// Which lifts a cam card leaves open on a flank.
#pragma once
#include <vector>

#include "motion/least_jerk.hpp"

namespace eyebrow::motion {

/// Lifts against angle from the nose outward, crank radians: the middle, least and greatest of the lobes that pass
/// through every point of a card. All fall all the way, and meet in the card's points.
struct FittingLobes {
  std::vector<double> angle;  ///< rising, from 0; the card's points are among them
  std::vector<double> least, middle, greatest;
  int count = 0;  ///< of lobes that fit; below kFewestFitting nothing else is told
};

/// `lift`: at the nose, angle 0. `points`: at least one, angles above zero and rising, lifts below `lift` and falling.
///
/// Each of the known flanks is drawn out in angle to pass through one point; those nearest to the others are made to
/// pass through these too by adding what goes with it among them: y + cov(y, points) cov(points, points)^-1 (card -
/// points), the conditional mean of a normal distribution (Kalman's update of an ensemble). What comes out is a
/// weighted sum of real lobes' accelerations; sums that turn back or are twice as sharp as known flanks are left out.
/// Least and greatest are the ensemble's, moved out from its middle by kBandMargins, and no further than those of one
/// or two of the points that are held at least as well: to know one more narrows what is left.
FittingLobes lobes_that_fit(double lift, const std::vector<LiftPoint>& points);

}  // namespace eyebrow::motion
