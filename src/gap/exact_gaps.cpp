#include "exact_gaps.hpp"

#include <algorithm>
#include <cmath>

#include "facing.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
ConvexValve::ConvexValve(const Profile& profile, const Profile& whole)
    : pieces(convex_pieces(whole)),
      upright(upright_hull(whole)),
      circles(outline_circles(whole)),
      stem(stem_side(profile)),
      filled(hollow_below(profile)),
      brink(brink_places(profile)),
      dish(Dish::of(profile, pieces.front())) {}

ExactGaps::ExactGaps(const Target& target, Vec3 up, const std::vector<int>& all, const std::vector<int>& feet,
                     const std::vector<int>& sides)
    : target_(target),
      frame_(frame_about({}, up)),
      all_(all),
      outward_(target.crown().faces.size(), 1),
      ahead_(frame_),
      edges_(frame_),
      curved_(frame_),
      sides_(frame_) {
  const auto has = [](const std::vector<int>& list, int face) { return std::ranges::find(list, face) != list.end(); };
  for (const int i : all)
    if (!target.tree(i).pieces.empty()) add_face(i, has(feet, i), has(sides, i));
  add_edges();
  for (SheetSet* set : {&ahead_, &edges_, &curved_, &sides_}) set->finish();
}

void ExactGaps::add_face(int number, bool foot, bool side) {
  const auto index = static_cast<std::size_t>(number);
  const Face& face = target_.crown().faces[index];
  const Trim& trim = target_.trims()[index];
  const Piece& piece = target_.tree(number).pieces.front();
  if (face.kind != Surface::free_form &&
      dot(off_surface_gradient(face, piece.corner[0]), target_.normal(piece.triangle)) < 0)
    outward_[index] = -1;
  const bool bulges = outward_[index] > 0;
  if (face.kind == Surface::free_form) {
    mesh_faces_.push_back(number);
    if (side) mesh_sides_.push_back(number);
    if (foot) mesh_feet_.push_back(number);
    return;
  }
  if (face.kind == Surface::plane) {
    const Vec3 normal = outward_[index] * face.frame.z;
    planes_.push_back({number, normal, piece.corner[0], into(normal)});
    if (foot) feet_.push_back({static_cast<int>(planes_.size()) - 1, edges_of(number)});
    if (side) mesh_sides_.push_back(number);
    return;
  }
  curved_.add(face, number, trim, true);
  if (side) {
    sides_.add(face, number, trim, true);
    SheetForm form;
    form_of(face, form);
    for (Vec3* v : {&form.origin, &form.x, &form.y, &form.z}) *v = into(*v);
    slices_.push_back({number, form});
  }
  if (bulges && (face.kind == Surface::cylinder || face.kind == Surface::cone || face.kind == Surface::sphere)) {
    bulges_.emplace_back(frame_);
    bulges_.back().add(face, number, trim, false);
    bulges_.back().finish();
  } else if (!bulges && (face.kind == Surface::cylinder || face.kind == Surface::torus)) {
    hollows_.emplace_back(number, face, frame_.z);
  } else {
    ahead_.add(face, number, trim, true);
  }
  if (!foot) return;
  if (face.kind == Surface::sphere && bulges)
    balls_.push_back({number, face.frame.origin, face.radius, edges_of(number)});
  else if (face.kind == Surface::cone && bulges)
    cones_.push_back({number, bulges_.size() - 1, edges_of(number)});
  else
    mesh_feet_.push_back(number);
}

SheetSet ExactGaps::edges_of(int face) const {
  SheetSet set(frame_);
  for (const CrownEdge& edge : target_.edges())
    if (edge.faces[0] == face || edge.faces[1] == face)
      for (const Arc& arc : edge.arcs) set.add(arc, face);
  set.finish();
  return set;
}

void ExactGaps::add_edges() {
  for (const CrownEdge& edge : target_.edges()) {
    const auto [a, b] = edge.faces;
    const int told = std::ranges::find(all_, a) <= std::ranges::find(all_, b) ? a : b;
    for (const Arc& arc : edge.arcs) {
      ahead_.add(arc, told);
      edges_.add(arc, told);
      for (const Side& side : slices_)
        if (side.face == a || side.face == b) {
          sides_.add(arc, side.face, circles(arc, target_.crown().faces[static_cast<std::size_t>(side.face)]));
        }
    }
  }
}

Vec3 ExactGaps::normal(int face, Vec3 point) const {
  const auto index = static_cast<std::size_t>(face);
  return outward_[index] * off_surface_gradient(target_.crown().faces[index], point);
}

void ExactGaps::take(Nearest& best, double value, Vec3 point, int face, Vec3 centre) const {
  if (value < best.value && holds(face, point)) best = {value, into(point - centre), face};
}

Found ExactGaps::with_mesh(Found found, Found on_mesh, double error) const {
  if (on_mesh.value < found.value) {
    on_mesh.low = std::min(on_mesh.low, found.low);
    return on_mesh;
  }
  found.low = std::min(found.low, on_mesh.low - error);
  found.spent |= on_mesh.spent;
  return found;
}

ExactGaps::Support ExactGaps::support(const Plane& plane, const ConvexValve& valve, const ConvexOutline& solid,
                                      Vec3 centre, Vec3 along) const {
  const Vec3 n = plane.turned;
  const double side = diagonal(n.x, n.y);
  const bool level = side < kUpright;
  const auto extreme = [&](double sign) {
    const Point2 q = solid.support(-side, sign * n.z);
    return level ? Vec3{0, 0, q.w} : Vec3{-sign * q.r * n.x / side, -sign * q.r * n.y / side, q.w};
  };
  const double off = dot(plane.normal, centre - plane.origin);
  const Vec3 low = extreme(1);
  Support result{off + dot(n, low), {}, false};
  result.foot = centre + out(low - (result.height / dot(n, along)) * along);
  if (result.height >= 0) {
    if (!level || n.z < 0 || &solid != &valve.pieces.front()) return result;
    for (const Vec3& place : valve.brink) {
      const Vec3 foot = centre + out(place - (result.height / dot(n, along)) * along);
      if (!holds(plane.face, foot)) continue;
      result.foot = foot;
      break;
    }
    return result;
  }
  const Vec3 high = extreme(-1);
  const double above = off + dot(n, high);
  if (above <= 0) return result;
  const Vec3 cut = low + (-result.height / (above - result.height)) * (high - low);
  result.cuts_face = holds(plane.face, centre + out(cut));
  return result;
}

}  // namespace eyebrow::gap
