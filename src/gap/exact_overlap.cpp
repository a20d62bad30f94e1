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
    // Within the stem's radius the depth is no convex function: of a face that the axis does not pass through what is
    // deepest there may lie beside the line and off its edges.
    if (std::fabs(plane.turned.z) < kUpright) continue;
    const double down = dot(plane.normal, centre - plane.origin) / plane.turned.z;
    const bool searched = holds(plane.face, centre - down * frame_.z)
                              ? search_plane(plane, depth, centre, tolerance, best, depth.stem.r)
                              : deepest_under_stem(plane, centre, depth, tolerance, best);
    if (!searched) return -kInfinity;
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
    if (std::fabs(plane.turned.z) < kUpright) continue;
    const double bound = bound_under_stem(origin, plane.turned, depth, dished.dish, best.value - tolerance);
    if (bound < best.value - tolerance && !deepest_under_stem(plane, centre, depth, tolerance, best))
      unsure = std::min(unsure, bound);
  }
  return unsure;
}

/// The depth slopes by 1 at most.
bool ExactGaps::deepest_under_stem(const Plane& plane, Vec3 centre, const Depth& depth, double tolerance,
                                   Nearest& best) const {
  const Face& face = target_.crown().faces[static_cast<std::size_t>(plane.face)];
  const Trim& trim = target_.trims()[static_cast<std::size_t>(plane.face)];
  const double down = dot(plane.normal, centre - plane.origin) / plane.turned.z;
  const Vec3 on_axis = centre - down * frame_.z - face.frame.origin;
  struct Square {
    double s, t, half;
  };
  std::vector<Square> open{
      {dot(on_axis, face.frame.x), dot(on_axis, face.frame.y), depth.stem.r / std::fabs(plane.turned.z)}};
  for (long opened = 0; !open.empty(); ++opened) {
    const auto [s, t, half] = open.back();
    open.pop_back();
    const Vec3 point = face.frame.origin + s * face.frame.x + t * face.frame.y, q = into(point - centre);
    const double spread = std::sqrt(2.0) * half, r = radius_of(q);
    if (r - spread > depth.stem.r || trim.box(s - half, s + half, t - half, t + half) == Trim::Box::off) continue;
    const double value = depth.distance.eval(r, q.z).value;
    if (value < best.value && trim.within(point)) best = {value, q, plane.face};
    double dr = 0, dw = 0;
    const double hull = depth.upright.eval(r, q.z, dr, dw), square = dot(lift_gradient(q, r, dr, dw), plane.turned);
    const double low = std::max(value - spread, hull - std::sqrt(std::max(0.0, 1 - square * square)) * spread);
    if (low >= best.value - tolerance) continue;
    if (opened > kSheetBudget || half < kBrink) return false;
    for (const double aside : {-0.5 * half, 0.5 * half})
      for (const double along : {-0.5 * half, 0.5 * half}) open.push_back({s + aside, t + along, 0.5 * half});
  }
  return true;
}

bool ExactGaps::deepest(Vec3 centre, const ConvexValve& valve, const ValveShape& shape, double tolerance,
                        Nearest& best) const {
  const Depth depth{valve.pieces.front(), valve.upright, valve.stem, shape.distance};
  const auto search_all = [&](const auto& function) {
    // Edges first: beside a face's border only what is known of the border ends the search.
    if (!search_edges_and_curved(function, centre, tolerance, best)) return false;
    const double unsure = deepest_on_planes(centre, function, tolerance, best);
    return unsure > -kInfinity && unsure >= best.value - tolerance;
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
  return found;
}

}  // namespace eyebrow::gap
