// The way along a straight line to a convex solid of revolution, with what it says of lines beside it.
#pragma once
#include "convex_outline.hpp"

namespace eyebrow::gap {

struct Way {
  bool met = false;
  double length = 0;  ///< to where the line enters; negative where the start is inside
  Vec3 slope;         ///< met: from q, the way is at least length + slope . (q - start)
  Vec3 outside;       ///< not met: no line from q meets the solid ahead unless outside . (q - start) <= -by
  double by = 0;
  /// Of a function of (r, w) that does not fall with r: to the two products above come these times the rise of r. It
  /// takes no linear function around the axis to bound it.
  double slope_r = 0, outside_r = 0;
};

/// From `start` along the unit vector `n`; what ends behind the start does not count. Newton's method on a convex
/// function: it comes from outside and never goes too far.
Way way_to(const ConvexOutline& solid, Vec3 start, Vec3 n);

/// Lower bound of the length of each way that starts within `spread` of `start`; infinity when none is met.
double least_way(const ConvexOutline& solid, Vec3 start, Vec3 n, double spread);

}  // namespace eyebrow::gap
