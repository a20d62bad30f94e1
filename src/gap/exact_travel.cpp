// Travel to contact from exact faces and edges.
#include <algorithm>
#include <cmath>

#include "exact_searches.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr Vec3 kAlong{0, 0, 1};  // the valve's axis in its own axes

}  // namespace

/// A circle beyond the surface may have got there through another void.
bool ExactGaps::beyond_hollow(Vec3 centre, const ConvexValve& valve) const {
  const auto inside = [&](Vec3 point) {
    const Vec3 q = into(point - centre);
    double dr = 0, dw = 0;
    return std::ranges::any_of(valve.pieces,
                               [&](const ConvexOutline& piece) { return piece.eval(radius_of(q), q.z, dr, dw) <= 0; });
  };
  for (const HollowFace& face : hollows_)
    for (const OutlineCircle& circle : valve.circles) {
      const Vec3 middle = centre + circle.w * frame_.z;
      const HollowFace::Nears nears = face.nears(circle, middle, 0);
      for (int i = 0; i < nears.count; ++i) {
        const HollowFace::Near& near = nears.at[static_cast<std::size_t>(i)];
        if (!holds(face.number(), near.foot)) continue;
        if (inside(near.foot)) return true;
        const std::optional<Vec3> crossing = face.crossing(circle, middle, near.point);
        if (crossing && holds(face.number(), *crossing)) return true;
      }
    }
  return false;
}

std::optional<Found> ExactGaps::travel(Vec3 centre, const ConvexValve& valve, const ValveShape& shape,
                                       const ValveShape& on_mesh) const {
  if (edges_.empty()) return std::nullopt;
  const ConvexOutline& head = valve.pieces.front();
  Nearest best{kInfinity, {}, -1};
  bool overlap = false;
  for (const Plane& plane : planes_) {
    if (plane.turned.z <= kUpright) continue;
    const Support s = support(plane, valve, head, centre, kAlong);
    overlap |= s.cuts_face;
    if (s.height >= 0) take(best, s.height / plane.turned.z, s.foot, plane.face, centre);
  }
  if (overlap || beyond_hollow(centre, valve)) {
    const std::optional<Found> out = withdrawal(centre, valve);
    if (!out || out->face >= 0) return out;
  }
  for (const HollowFace& face : hollows_)
    for (const OutlineCircle& circle : valve.circles) {
      const HollowFace::Nears exits = face.exits(circle, centre + circle.w * frame_.z, best.value);
      for (int i = 0; i < exits.count; ++i) {
        const HollowFace::Near& exit = exits.at[static_cast<std::size_t>(i)];
        if (exit.gap >= 0) take(best, exit.gap, exit.foot, face.number(), centre);
      }
    }
  const AxialWays ways{head};
  if (!search(ahead_, ways, centre, kEdgeSearch, best)) return std::nullopt;
  for (const SheetSet& bulge : bulges_)
    if (!search_whole(bulge, ways, centre, kEdgeSearch, best)) return std::nullopt;
  if (best.value >= 0) {
    // Is it the valve that is met there, or what fills its dish?
    if (valve.filled && best.face >= 0 &&
        !(shape.distance.lowest(std::min(radius_of(best.point), shape.profile.rim_radius)) - best.point.z <=
          best.value + kEdgeSearch))
      return std::nullopt;
    if (mesh_faces_.empty()) return found_of(best, kEdgeSearch);
    const Found other = gap::travel(target_, mesh_faces_, ValveFrame(centre, frame_.z), on_mesh);
    if (other.value < 0) return std::nullopt;
    return with_mesh(found_of(best, kEdgeSearch), other);
  }
  const std::optional<Found> out = withdrawal(centre, valve);
  return out && out->face >= 0 ? out : std::nullopt;
}

/// Out of all that the valve has reached, then out of what that runs into, and so on. No face: nothing was reached.
std::optional<Found> ExactGaps::withdrawal(Vec3 centre, const ConvexValve& valve) const {
  if (!mesh_faces_.empty() || valve.filled) return std::nullopt;
  double from = 0;
  Nearest best{0, {}, -1};
  for (int i = 0; i < kChain; ++i) {
    Nearest next{from, {}, -1};
    for (const ConvexOutline& piece : valve.pieces)
      if (!search_everything(AxialWays{piece, from}, centre, next)) return std::nullopt;
    if (next.face < 0) return found_of(best, kSearch);
    best = next;
    from = next.value;
  }
  return std::nullopt;
}

}  // namespace eyebrow::gap
