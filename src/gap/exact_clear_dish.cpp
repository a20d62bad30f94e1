// The closest gap of a dished valve that clears the crown, where the dish is what is nearest.
#include "exact_searches.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {

/// A filled dish would do for most poses and is quicker (ClearClosest).
///
/// On a face that is plane the distance has no least of its own but under the valve's lowest point over it: under a
/// dish the valve rises to all sides but one. So where the whole plane is clear that place counts, and else the face's
/// edges, which are searched like every face that is curved.
std::optional<Found> ExactGaps::clear_of_dish(Vec3 centre, const ConvexValve& valve, const ValveShape& shape) const {
  Nearest best{kInfinity, {}, -1};
  for (const ConvexOutline& piece : valve.pieces) {
    for (const Plane& plane : planes_) {
      const Support nearest = support(plane, valve, piece, centre, plane.turned);
      if (nearest.height >= 0) take(best, nearest.height, nearest.foot, plane.face, centre);
    }
    const bool searched =
        &piece == &valve.pieces.front()
            ? search_edges_and_curved(DishedDistance{piece, *valve.dish, shape.distance}, centre, kEdgeSearch, best)
            : search_edges_and_curved(Distance{piece}, centre, kEdgeSearch, best);
    if (!searched || best.value <= 0) return std::nullopt;
  }
  Found found = found_of(best, kEdgeSearch);
  if (mesh_faces_.empty()) return found;
  std::vector<const FaceTree*> trees;
  for (int face : mesh_faces_) trees.push_back(&target_.tree(face));
  return with_mesh(found, closest(trees, ValveFrame(centre, frame_.z), shape, found), target_.crown().error);
}

}  // namespace eyebrow::gap
