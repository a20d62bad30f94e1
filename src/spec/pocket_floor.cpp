#include "spec/pocket_floor.hpp"

namespace eyebrow {

// The floor's disc lies t down the axis (tilt g, radius r). Down the slope from its centre it falls sin g a unit, so
// that
//   floor centre:  t cos g
//   sharp edge:    t cos g + r sin g
//   deepest, with a corner of radius c: the corner's tube (centre circle r - c, c above the floor) reaches c below its
//   centre circle:  (t - c) cos g + (r - c) sin g + c.
DeepestPoint deepest_point(const Pocket& pocket) {
  const double cos_g = std::cos(pocket.tilt), sin_g = std::sin(pocket.tilt);
  const double r = pocket.diameter / 2, c = pocket.corner_radius;
  double along = 0;  // t, down the axis to the floor
  switch (pocket.depth_to) {
    case DepthTo::floor_centre:
      along = pocket.depth / cos_g;
      break;
    case DepthTo::sharp_edge:
      along = (pocket.depth - r * sin_g) / cos_g;
      break;
    case DepthTo::deepest:
      along = (pocket.depth - c - (r - c) * sin_g) / cos_g + c;
      break;
  }
  DeepestPoint point;
  point.depth = (along - c) * cos_g + (r - c) * sin_g + c;
  // Toward the lean the floor is lowest; the tube's lowest point lies straight below its centre circle.
  const double out = (r - c) * cos_g - (along - c) * sin_g;
  point.x = pocket.x + out * std::cos(pocket.lean);
  point.y = pocket.y + out * std::sin(pocket.lean);
  return point;
}

}  // namespace eyebrow
