// Convex polygons cut by planes of constant height; for triangles of the mesh.
#pragma once
#include <array>

#include "search.hpp"

namespace eyebrow::gap {

/// A triangle cut by two parallel planes has at most five corners, by one more at most six.
struct Polygon {
  std::array<Vec3, 8> corner;
  int count = 0;
  void add(Vec3 p) { corner[count++] = p; }
};

/// The part of the triangle with low <= w <= high.
inline Polygon slab(const Cell& cell, double low, double high) {
  Polygon in;
  for (const Vec3& c : cell.corner) in.add(c);
  for (int pass = 0; pass < 2; ++pass) {
    Polygon out;
    const double sign = pass == 0 ? 1 : -1, level = pass == 0 ? low : high;
    for (int i = 0; i < in.count; ++i) {
      const Vec3 a = in.corner[i], b = in.corner[(i + 1) % in.count];
      const double da = sign * (a.z - level), db = sign * (b.z - level);
      if (da >= 0) out.add(a);
      if ((da < 0) != (db < 0)) {
        Vec3 p = a + (da / (da - db)) * (b - a);
        p.z = level;
        out.add(p);
      }
    }
    in = out;
    if (in.count == 0) break;
  }
  return in;
}

/// The part where a linear function is not positive, `at` its values at the corners.
inline Polygon not_positive(const Polygon& in, const std::array<double, 8>& at) {
  Polygon out;
  for (int i = 0; i < in.count; ++i) {
    const int k = (i + 1) % in.count;
    if (at[i] <= 0) out.add(in.corner[i]);
    if ((at[i] <= 0) != (at[k] <= 0)) out.add(in.corner[i] + (at[i] / (at[i] - at[k])) * (in.corner[k] - in.corner[i]));
  }
  return out;
}

/// The polygon's point nearest to the w axis.
inline Vec3 nearest_to_axis(const Polygon& polygon, double& r) {
  // Projected along w the polygon is convex; the axis is the origin. Inside: r = 0.
  bool left = true, right = true;
  double best = kInfinity;
  Vec3 at{};
  for (int i = 0; i < polygon.count; ++i) {
    const Vec3 a = polygon.corner[i], b = polygon.corner[(i + 1) % polygon.count];
    const double turn = a.x * b.y - a.y * b.x;
    left &= turn >= 0;
    right &= turn <= 0;
    const double ex = b.x - a.x, ey = b.y - a.y, length2 = ex * ex + ey * ey;
    const double t = length2 > 0 ? std::clamp(-(a.x * ex + a.y * ey) / length2, 0.0, 1.0) : 0.0;
    const Vec3 p = a + t * (b - a);
    const double r2 = p.x * p.x + p.y * p.y;
    if (r2 < best) {
      best = r2;
      at = p;
    }
  }
  r = std::sqrt(best);
  if (polygon.count < 3 || left == right) return at;  // a sliver seen edge on has no inside
  const Vec3 n = cross(polygon.corner[1] - polygon.corner[0], polygon.corner[2] - polygon.corner[0]);
  if (std::fabs(n.z) < 1e-12) return at;
  r = 0;
  return {0, 0, dot(n, polygon.corner[0]) / n.z};
}

}  // namespace eyebrow::gap
