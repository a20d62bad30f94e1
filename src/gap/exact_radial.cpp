// The radial gap from exact faces and edges.
#include <cmath>

#include "exact_searches.hpp"
#include "outline.hpp"
#include "slice.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {

std::optional<Found> ExactGaps::radial(Vec3 centre, const ValveShape& shape, const ValveShape& on_mesh, double reach,
                                       double astray) const {
  if (sides_.empty()) return std::nullopt;
  const auto finish = [&](const Nearest& best) {
    const Found found = found_of(best, kEdgeSearch);
    if (mesh_sides_.empty()) return found;
    return with_mesh(found, gap::radial(target_, mesh_sides_, ValveFrame(centre, frame_.z), on_mesh, reach, astray));
  };
  const auto normal_of = [&](int face, Vec3 q) { return into(normal(face, centre + out(q))); };
  const bool sharp = shape.profile.edge_radius == 0;
  const double foot = shape.distance.elements()[0].to.w - reach;
  const ProfileElement* edge = rim_edge_of(shape.distance.elements());
  const FromRim<decltype(normal_of)> from_rim{shape.profile.rim_radius,
                                              shape.profile.edge_radius,
                                              foot,
                                              edge ? edge->centre.w - reach : foot,
                                              shape.profile.margin,
                                              astray,
                                              sharp,
                                              normal_of,
                                              target_};
  Nearest best{kInfinity, {}, -1};
  // A sharp rim's path is a cylinder: of a face that is hollow toward it what looks at it is nearest to its ends, on
  // the face's edges or where it ceases to look at it. That of a rounded one ends round.
  if (sharp)
    for (const Side& side : slices_)
      for (const double w : {from_rim.low, from_rim.high})
        nearest_on_slice(side.form, into(centre), w, [&](Vec3 q) {
          const double value = radius_of(q) - from_rim.rim;
          if (value >= best.value) return;
          const Vec3 point = centre + out(q), n = into(normal(side.face, point));
          if (value > 0 && !from_rim.faces(q, n)) return;
          take(best, value, point, side.face, centre);
        });
  if (!search(sides_, from_rim, centre, kEdgeSearch, best, kRadialBudget)) return std::nullopt;
  return finish(best);
}

}  // namespace eyebrow::gap
