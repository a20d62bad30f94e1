// Where around a valve a point lies, as the trade says it.
#pragma once
#include "eyebrow/vec.hpp"

namespace eyebrow::study {

struct Spot {
  double clock = NAN;    ///< hours, 0 <= clock < 12; NaN when the valve or the point has no direction
  double from_axis = 0;  ///< mm
};

/// `point` seen from the valve: 12 o'clock is from the valve's centre toward the bore axis as seen from above the
/// piston (looking along -z), clockwise. The point is first brought along the valve's axis into the rim plane, so that
/// a point up the seat and one on the rim below it read the same. All in a frame whose z is the bore axis.
Spot spot_of(Vec3 point, Vec3 rim_centre, Vec3 up);

/// The other way round: the unit vector square to the valve's axis that points to this hour. NaN where the valve has no
/// direction.
Vec3 direction_at(double clock, Vec3 rim_centre, Vec3 up);

}  // namespace eyebrow::study
