// The closest gap where valve and crown overlap, from exact faces and edges.
#include <algorithm>
#include <cmath>

#include "dish_plane.hpp"
#include "exact_searches.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {

double ExactGaps::deepest_on_planes(Vec3 centre, const Depth& depth, double tolerance, Nearest& best) const {
  const HeadDepth in_head{depth.head, depth.distance};
  for (const Plane& plane : planes_) {
    if (!search_plane(plane, in_head, centre, tolerance, best)) return -kInfinity;
    // Within the stem's radius: only a face that the axis passes through has places there, or edges.
    if (std::fabs(plane.turned.z) < kUpright) continue;
    const double down = dot(plane.normal, centre - plane.origin) / plane.turned.z;
    if (holds(plane.face, centre - down * frame_.z) &&
        !search_plane(plane, depth, centre, tolerance, best, depth.stem_radius))
      return -kInfinity;
  }
  return kInfinity;
}

double ExactGaps::deepest_on_planes(Vec3 centre, const DishedDepth& dished, double tolerance, Nearest& best) const {
  const Depth& depth = dished.depth;
  double unsure = kInfinity;
  for (const Plane& plane : planes_) {
    const Vec3 origin = into(plane.origin - centre);
    const auto place = [&](Vec3 q, double bound) {
      if (!holds(plane.face, centre + out(q))) return;
      double value = 0;
      depth.counts(q, plane.face, value);
      if (value < best.value) best = {value, q, plane.face};
      if (value > bound + tolerance) unsure = std::min(unsure, bound);
    };
    places_on_plane(origin, plane.turned, depth.head, dished.dish, best.value - tolerance, place);
    places_under_stem(origin, plane.turned, depth, dished.dish, best.value - tolerance, place);
  }
  return unsure;
}

bool ExactGaps::deepest(Vec3 centre, const ConvexValve& valve, const ValveShape& shape, double tolerance,
                        Nearest& best) const {
  const Depth depth{valve.pieces.front(), valve.upright, valve.stem_radius, shape.distance};
  const auto search_all = [&](const auto& function) {
    const double unsure = deepest_on_planes(centre, function, tolerance, best);
    return unsure > -kInfinity && search_edges_and_curved(function, centre, tolerance, best) &&
           unsure >= best.value - tolerance;
  };
  return valve.dish ? search_all(DishedDepth{depth, *valve.dish, best.value}) : search_all(depth);
}

std::optional<Found> ExactGaps::overlap(Vec3 centre, const ConvexValve& valve, const ValveShape& shape) const {
  if (edges_.empty()) return std::nullopt;
  double tolerance = kSearch;
  Nearest best{0, {}, -1};
  if (!deepest(centre, valve, shape, tolerance, best)) return std::nullopt;
  if (best.face < 0) {  // no deeper than that, or clear by a hair
    tolerance = kEdgeSearch;
    best.value = kSearch;
    if (!deepest(centre, valve, shape, tolerance, best)) return std::nullopt;
  }
  Found found = found_of(best, tolerance);
  if (!mesh_faces_.empty()) {
    std::vector<const FaceTree*> trees;
    for (int face : mesh_faces_) trees.push_back(&target_.tree(face));
    found = with_mesh(found, closest(trees, ValveFrame(centre, frame_.z), shape, found), target_.crown().error);
  }
  if (found.face < 0 && found.triangle < 0) return std::nullopt;
  return found;
}

}  // namespace eyebrow::gap
