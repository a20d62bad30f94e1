// How much of a valve lies inside a crown, by our own quadrature: the check on the modeller's common part.
#pragma once
#include "eyebrow/crown.hpp"
#include "eyebrow/profile.hpp"

namespace eyebrow {

struct OverlapEstimate {
  double volume = 0;  ///< mm3
  /// Twice the spread of four quadratures, the crown's mesh error over the overlap's surface, and what could not be
  /// told. Not a proof: the spread is what four shifted grids differ by.
  double error = 0;
  Vec3 centre{NAN, NAN, NAN};  ///< centroid, the crown's frame; NaN = no line of the grid met an overlap
};

/// `rim_centre` and `up` place the valve in the crown's frame. Lines along the stem, in a square grid: on each the
/// length within both parts is exact for valve and mesh (Gauss's theorem: the sum over the mesh's crossings), the
/// midpoint rule adds them up. The grid is first drawn in to where the parts overlap.
OverlapEstimate estimate_overlap(const Crown& crown, const Profile& profile, Vec3 rim_centre, Vec3 up);

}  // namespace eyebrow
