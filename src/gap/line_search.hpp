// The least of a convex function over a plane that the valve is symmetric to.
#pragma once
#include <algorithm>
#include <cmath>

#include "edge_search.hpp"
#include "way.hpp"

namespace eyebrow::gap {

/// Of a convex function that turns with the valve's axis a least lies where the plane meets the plane that holds the
/// axis and its normal: on a line. There by the tangents from either side, halving where they do not help.
/// `function` as in SheetSearch, and its `at` holds everywhere; `plane` and `normal`: a point and the unit normal,
/// valve's axes, origin at the rim-plane centre. `within`: only of the disc of that radius about the axis (none where
/// the plane is parallel to it). What it misses lies no more than the tolerance below; false when it gave up.
template <class Function>
bool least_on_plane(const Function& function, Vec3 plane, Vec3 normal, double within, double tolerance, Nearest& best,
                    int face) {
  constexpr double reach = 1e4;  // mm: no engine's part is further from a valve
  constexpr int kMost = 80;
  const double off = dot(normal, plane);
  const Vec3 along{-normal.z * normal.x, -normal.z * normal.y, 1 - normal.z * normal.z};  // the axis within the plane
  const double share = norm(along);
  const auto take = [&](Vec3 q, double value) {
    if (value < best.value) best = {value, q, face};
  };
  if (share < 1e-9) {  // level
    const Vec3 q{0, 0, off / normal.z};
    const Way way = function.at(q, reach);
    double value = way.length;
    if (way.met && function.counts(q, face, value)) take(q, value);
    return !way.met || way.length >= best.value - tolerance;
  }
  const Vec3 from = off * normal, e = (1 / share) * along;
  double low = -reach, high = reach, t = 0, least_length = INFINITY;
  if (within < reach) {
    if (std::fabs(normal.z) < 1e-9) return true;
    t = e.z * off / normal.z - dot(from, e);
    low = t - within / std::fabs(normal.z);
    high = t + within / std::fabs(normal.z);
  }
  struct Cut {
    bool known = false;
    double t = 0, value = 0, slope = 0;
  } left, right;
  for (int i = 0; i < kMost && high - low > 1e-12; ++i) {
    const Vec3 q = from + t * e;
    const Way way = function.at(q, reach);
    const double r = std::sqrt(q.x * q.x + q.y * q.y);
    const auto slope_of = [&](Vec3 g, double g_r) {
      return dot(g, e) + (r > 0 ? g_r * (q.x * e.x + q.y * e.y) / r : 0);
    };
    if (!way.met) {
      const double slope = slope_of(way.outside, way.outside_r);
      if (std::fabs(slope) < 1e-15) return true;  // nowhere on the line
      const double edge = t - way.by / slope;
      if (slope > 0)
        high = std::min(high, edge);
      else
        low = std::max(low, edge);
      if (low > high) return true;
    } else {
      double value = way.length;
      least_length = std::min(least_length, value);
      if (value < best.value && function.counts(q, face, value)) take(q, value);
      const Cut cut{true, t, way.length, slope_of(way.slope, way.slope_r)};
      if (cut.slope == 0) return way.length >= best.value - tolerance;
      (cut.slope < 0 ? left : right) = cut;
      (cut.slope < 0 ? low : high) = t;
    }
    double next = 0.5 * (low + high);
    if (left.known && right.known) {
      const double meet =
          (right.value - left.value + left.slope * left.t - right.slope * right.t) / (left.slope - right.slope);
      const double bound = left.value + left.slope * (meet - left.t);
      if (bound >= best.value - tolerance) return true;
      // In turn with halving: a tangent from afar may point to where the other one stands.
      if (i % 3 != 2 && meet > low && meet < high) next = meet;
    } else if (left.known || right.known) {
      const Cut& cut = left.known ? left : right;
      if (cut.value + std::min(cut.slope * (low - cut.t), cut.slope * (high - cut.t)) >= best.value - tolerance)
        return true;
      // The least of such a side mostly lies where the function ends.
      if (i % 2 == 1) next = left.known ? low + 0.999 * (high - low) : high - 0.999 * (high - low);
    }
    t = next;
  }
  // What counts may be more than the bound says: then a place off the line may count for less.
  return high - low <= 1e-12 && least_length >= best.value - tolerance;
}

}  // namespace eyebrow::gap
