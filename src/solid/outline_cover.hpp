// A curved stretch of an outline, replaced by few straight pieces that hold the metal.
#pragma once
#include <vector>

#include "eyebrow/profile.hpp"

namespace eyebrow {

struct OutlineCover {
  std::vector<Point2> points;  ///< first and last as those of the curve
  double error = 0;            ///< greatest distance of the pieces from the curve
};

/// `curve`: close points, walked with the metal on the left. No point of it lies outside the pieces, and none of these
/// is further from it than `within`, as far as few pieces allow that.
OutlineCover cover_outside(const std::vector<Point2>& curve, double within);

/// Close points along an arc, ends included.
std::vector<Point2> arc_points(const ProfileElement& arc, int count);

}  // namespace eyebrow
