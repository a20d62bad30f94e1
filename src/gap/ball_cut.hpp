// A convex solid of revolution that reaches into a ball: its nearest place to the middle, and where the surface cuts
// it.
#pragma once
#include <cmath>

#include "convex_outline.hpp"
#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {

/// `middle`: of the ball, in the solid's axes.
struct BallCut {
  double height = 0;         ///< of the solid over the ball; negative: it reaches so far into it
  Vec3 foot;                 ///< on the ball's surface, under the nearest place
  bool foot_within = false;  ///< does the solid reach from there to the foot, or beyond?
  Vec3 cut;  ///< of a solid that reaches into the ball, but does not lie in it: a place on the surface; else the foot
};

inline BallCut ball_cut(const ConvexOutline& solid, Vec3 middle, double radius) {
  const double r = radius_of(middle);
  double dr = 0, dw = 0;
  const double far = solid.eval(r, middle.z, dr, dw);
  const Vec3 toward = -lift_gradient(middle, r, dr, dw);
  BallCut result{far - radius, middle + radius * toward, false, middle + radius * toward};
  if (result.height >= 0) return result;
  result.foot_within = solid.eval(radius_of(result.foot), result.foot.z, dr, dw) <= 0;
  const double side = diagonal(toward.x, toward.y);
  const Point2 q = solid.support(-side, -toward.z);
  const Vec3 top = side < kUpright ? Vec3{0, 0, q.w} : Vec3{q.r * toward.x / side, q.r * toward.y / side, q.w};
  // From the nearest place, inside, to the outermost.
  const Vec3 from = far * toward, way = top - middle - from;
  const double a = dot(way, way), b = dot(from, way), c = dot(from, from) - radius * radius;
  if (a + 2 * b + c > 0) result.cut = middle + from + ((-b + std::sqrt(b * b - a * c)) / a) * way;
  return result;
}

}  // namespace eyebrow::gap
