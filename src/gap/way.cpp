#include "way.hpp"

#include <algorithm>
#include <cmath>

#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr int kSteps = 64;  // enough to halve 1e3 mm to rounding where the line grazes

struct At {
  double value;  ///< the solid's distance
  Vec3 gradient;
  double along;  ///< its slope along the line
};

At look(const ConvexOutline& solid, Vec3 q, Vec3 n) {
  const double r = radius_of(q);
  double dr = 0, dw = 0;
  At at{solid.eval(r, q.z, dr, dw), {}, 0};
  at.gradient = lift_gradient(q, r, dr, dw);
  at.along = dot(at.gradient, n);
  return at;
}

/// Before everything that the solid has within `spread` of the line.
double well_before(const ConvexOutline& solid, Vec3 start, double spread) {
  return -(norm(start) + solid.extent() + spread + 1);
}

}  // namespace

Way way_to(const ConvexOutline& solid, Vec3 start, Vec3 n) {
  Way way;
  double t = 0;
  At here = look(solid, start, n);
  if (here.value <= 0) {
    t = well_before(solid, start, 0);
    here = look(solid, start + t * n, n);
  } else if (here.along >= 0) {
    way.outside = here.gradient;
    way.by = here.value;
    return way;
  }
  for (int i = 0; i < kSteps && here.value > kTouch; ++i) {
    const double next = t - here.value / here.along;
    const At there = look(solid, start + next * n, n);
    if (there.value > kTouch && there.along >= 0) {
      // The two tangents leave no room between them: mixed to be level along the line, they part it from the solid.
      const double share = there.along / (there.along - here.along);
      way.outside = share * here.gradient + (1 - share) * there.gradient;
      way.by = share * (here.value - t * here.along) + (1 - share) * (there.value - next * there.along);
      return way;
    }
    t = next;
    here = there;
  }
  way.met = true;
  way.length = t;
  way.slope = (1 / std::max(-here.along, 1e-9)) * here.gradient;
  return way;
}

double least_way(const ConvexOutline& solid, Vec3 start, Vec3 n, double spread) {
  double t = 0;
  At here = look(solid, start, n);
  if (here.value <= spread) {
    t = well_before(solid, start, spread);
    here = look(solid, start + t * n, n);
  } else if (here.along >= 0) {
    return INFINITY;
  }
  for (int i = 0; i < kSteps && here.value - spread > kTouch; ++i) {
    t -= (here.value - spread) / here.along;
    here = look(solid, start + t * n, n);
    if (here.along >= 0) return here.value - spread > kTouch ? INFINITY : t;
  }
  return t;
}

}  // namespace eyebrow::gap
