// Edges of a solid as circular arcs and straight pieces.
#pragma once
#include <vector>

#include "eyebrow/vec.hpp"

namespace eyebrow::gap {

/// p(t) = centre + cos(t) a + sin(t) b, t in [-half, half] about `a`; straight: p(t) = centre + t b, b a unit vector.
struct Arc {
  Vec3 centre, a, b;
  double half = 0;  ///< radians; mm where straight
  bool straight = false;
  Vec3 at(double t) const { return straight ? centre + t * b : centre + std::cos(t) * a + std::sin(t) * b; }
};

/// Arcs through a chain of points, each within kArcFit of every point that it passes; neighbours share a point. A
/// smooth curve between the points is met about as well, as the circle through three points of it errs with the cube of
/// their distance.
std::vector<Arc> arcs_through(const std::vector<Vec3>& points);

}  // namespace eyebrow::gap
