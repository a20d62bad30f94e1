#include <algorithm>
#include <cmath>

#include "clip.hpp"
#include "queries.hpp"

namespace eyebrow::gap {

Found radial(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve,
             double reach) {
  const double rim = valve.profile.rim_radius;
  const double foot = valve.distance.elements()[0].to.w;  // of the margin or its rounded edge
  const double low = foot - reach, high = valve.profile.margin;
  const double edge = valve.profile.edge_radius;
  // Below `full` only the rounded edge passes; its radius there, on the last of the path.
  const double full = low + edge;
  const auto rim_at = [&](double w) {
    if (edge <= 0 || w >= full) return rim;
    const double h = std::clamp(full - w, 0.0, edge);
    return rim - (edge - std::sqrt(edge * edge - h * h));
  };
  Found best;
  const auto try_point = [&](Vec3 p, double r, Vec3 normal, int triangle) {
    const double value = r - rim_at(p.z);
    if (value >= best.value) return;
    // A wall that turns its back to the rim is behind metal.
    if (value > 0 && normal.x * p.x + normal.y * p.y >= 0) return;
    best = {value, p, triangle, value};
  };
  const auto try_polygon = [&](const Polygon& polygon, Vec3 normal, int triangle) {
    if (polygon.count == 0) return;
    double r = 0;
    const Vec3 p = nearest_to_axis(polygon, r);
    try_point(p, r, normal, triangle);
  };
  const auto out_of_reach = [&](const Box2& box) {
    return box.low.w > high || box.high.w < low || box.low.r - rim >= best.value;
  };
  const auto visit = [&](const Cell& cell) {
    const Vec3 normal = frame.turn_in(target.normal(cell.triangle));
    try_polygon(slab(cell, full, high), normal, cell.triangle);
    if (edge <= 0) return;
    // Over the rounded edge the rim's radius changes with height: slices of equal turn along the arc, the corners tried
    // beside the nearest point, so that what a slice misses is of second order in its height.
    constexpr int kSlices = 48;
    for (int k = 0; k < kSlices; ++k) {
      const double a = full - edge * std::sin(0.5 * kPi * (k + 1) / kSlices);
      const double b = full - edge * std::sin(0.5 * kPi * k / kSlices);
      const Polygon slice = slab(cell, a, b);
      try_polygon(slice, normal, cell.triangle);
      for (int j = 0; j < slice.count; ++j)
        try_point(slice.corner[j], radius_of(slice.corner[j]), normal, cell.triangle);
    }
  };
  for (int face : faces) walk(target.tree(face), frame, out_of_reach, visit);
  best.low = best.value;
  return best;
}

}  // namespace eyebrow::gap
