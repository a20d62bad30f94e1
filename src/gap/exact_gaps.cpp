#include "exact_gaps.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "dish_plane.hpp"
#include "exact_functions.hpp"
#include "line_search.hpp"
#include "ray.hpp"
#include "shade.hpp"
#include "sheet_search.hpp"
#include "slice.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr Vec3 kAlong{0, 0, 1};  // the valve's axis in its own axes

double stem_radius_of(const Profile& profile) {
  double r = profile.rim_radius;
  for (const ProfileElement& e : profile.elements)
    if (e.part == ValvePart::stem) r = std::min(r, e.from.r);
  return r;
}

/// Does the way from a foot end at the valve, or at what fills its dish? On a dish's brink a hair to either side tells.
bool meets_metal(const ValveShape& shape, Vec3 foot, Vec3 n, double length) {
  if (length < 0) return false;
  const double r = radius_of(foot);
  for (const double aside : {0.0, -kBrink, kBrink}) {
    const double share = r > kBrink ? 1 + aside / r : 1;
    if (first_meeting(shape.distance, {share * foot.x, share * foot.y, foot.z}, n).at <= length + kEdgeSearch)
      return true;
  }
  return false;
}

Found found_of(const Nearest& best, double tolerance) {
  Found found;
  if (best.face < 0) return found;
  found.value = best.value;
  found.point = best.point;
  found.face = best.face;
  found.low = best.value - tolerance;
  return found;
}

}  // namespace

ConvexValve::ConvexValve(const Profile& profile, const Profile& whole)
    : pieces(convex_pieces(whole)),
      upright(upright_hull(whole)),
      circles(outline_circles(whole)),
      stem_radius(stem_radius_of(profile)),
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
  if (face.kind == Surface::free_form || (face.kind == Surface::sphere && !bulges)) {
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
  if (bulges && face.kind != Surface::torus) {
    bulges_.emplace_back(frame_);
    bulges_.back().add(face, number, trim, false);
    bulges_.back().finish();
  } else if (!bulges && face.kind != Surface::cone) {
    hollows_.emplace_back(number, face, frame_.z);
  } else {
    ahead_.add(face, number, trim, true);
  }
  if (!foot) return;
  if (face.kind == Surface::sphere)
    balls_.push_back({number, face.frame.origin, face.radius, edges_of(number)});
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

template <class Function>
bool ExactGaps::search(const SheetSet& set, const Function& function, Vec3 centre, double tolerance,
                       Nearest& best) const {
  return SheetSearch(set, function, into(centre), tolerance, kSheetBudget, best).run();
}

template <class Function>
bool ExactGaps::search_whole(const SheetSet& set, const Function& function, Vec3 centre, double tolerance,
                             Nearest& best) const {
  Nearest whole{best.value, {}, -1};
  if (!search(set, function, centre, tolerance, whole)) return false;
  if (whole.face >= 0) take(best, whole.value, centre + out(whole.point), whole.face, centre);
  return true;
}

template <class Function>
bool ExactGaps::search_plane(const Plane& plane, const Function& function, Vec3 centre, double tolerance, Nearest& best,
                             double within) const {
  Nearest whole{best.value, {}, -1};
  if (!least_on_plane(function, into(plane.origin - centre), plane.turned, within, tolerance, whole, plane.face))
    return false;
  if (whole.face >= 0) take(best, whole.value, centre + out(whole.point), whole.face, centre);
  return true;
}

/// Edges first: where a function falls across a face's border, only what is known of the border ends the search there.
template <class Function>
bool ExactGaps::search_edges_and_curved(const Function& function, Vec3 centre, Nearest& best) const {
  return search(edges_, function, centre, kSearch, best) && search(curved_, function, centre, kSearch, best);
}

template <class Function>
bool ExactGaps::search_everything(const Function& function, Vec3 centre, Nearest& best) const {
  for (const Plane& plane : planes_)
    if (!search_plane(plane, function, centre, kSearch, best)) return false;
  return search_edges_and_curved(function, centre, best);
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

/// Between the places of an edge where it is nearest to and furthest from the axis the distance from it has no turn.
void ExactGaps::under_dish(int face, Vec3 centre, const ConvexValve& valve, const ValveShape& shape,
                           Nearest& best) const {
  constexpr int kHalvings = 60;
  const double brink = radius_of(valve.brink.front());
  const auto try_at = [&](Vec3 q) {
    const double r = radius_of(q);
    if (r > shape.profile.rim_radius) return;
    const double way = shape.distance.lowest(r) - q.z;
    if (way < best.value) best = {way, q, face};
  };
  for (const CrownEdge& edge : target_.edges()) {
    if (edge.faces[0] != face && edge.faces[1] != face) continue;
    for (const Arc& arc : edge.arcs) {
      const Arc turned{into(arc.centre - centre), into(arc.a), into(arc.b), arc.half, arc.straight};
      const Vec3 c = turned.centre, a = turned.a, b = turned.b;
      std::array<double, 4> at{-arc.half, -arc.half, -arc.half, arc.half};
      if (arc.straight) {
        at[1] = at[2] = std::clamp(-(c.x * b.x + c.y * b.y), -arc.half, arc.half);
      } else {
        const double far = std::atan2(c.x * b.x + c.y * b.y, c.x * a.x + c.y * a.y);
        const double near = far > 0 ? far - kPi : far + kPi;
        at[1] = std::clamp(std::min(far, near), -arc.half, arc.half);
        at[2] = std::clamp(std::max(far, near), -arc.half, arc.half);
      }
      for (std::size_t i = 0; i < at.size(); ++i) {
        try_at(turned.at(at[i]));
        if (i == 0) continue;
        double low = at[i - 1], high = at[i];
        const bool out = radius_of(turned.at(high)) > brink;
        if ((radius_of(turned.at(low)) > brink) == out) continue;
        for (int k = 0; k < kHalvings; ++k) {
          const double middle = 0.5 * (low + high);
          ((radius_of(turned.at(middle)) > brink) == out ? high : low) = middle;
        }
        try_at(turned.at(low));
        try_at(turned.at(high));
      }
    }
  }
}

std::optional<Found> ExactGaps::face(Vec3 centre, const ConvexValve& valve, const ValveShape& shape,
                                     const ValveShape& on_mesh) const {
  if (edges_.empty()) return std::nullopt;
  Nearest best{kInfinity, {}, -1};
  for (const Foot& foot : feet_) {
    const Plane& plane = planes_[static_cast<std::size_t>(foot.plane)];
    for (const ConvexOutline& piece : valve.pieces) {
      const Support s = support(plane, valve, piece, centre, plane.turned);
      if (s.height >= best.value) continue;
      if (s.height >= 0 && holds(plane.face, s.foot)) {
        const bool met = valve.brink.empty() || &piece != &valve.pieces.front() ||
                         meets_metal(shape, into(s.foot - centre), plane.turned, s.height);
        if (met) {
          best = {s.height, into(s.foot - centre), plane.face};
          continue;
        }
      }
      // Level under a dish: the way is least on the brink, which is not on the face, or as far out as the face goes.
      if (!valve.brink.empty() && &piece == &valve.pieces.front() && s.height >= 0 &&
          diagonal(plane.turned.x, plane.turned.y) < kUpright && plane.turned.z > 0) {
        under_dish(plane.face, centre, valve, shape, best);
        continue;
      }
      const ParallelWays ways{piece, plane.turned};
      // A plane that keeps clear of a dished head is nearest to it under its lowest point, or on an edge: within the
      // lid's shadow the way is concave, and along the lip's it falls all the way to the lowest point's.
      if (valve.dish && &piece == &valve.pieces.front() && s.height >= 0 && plane.turned.z > 0) {
        if (!search(foot.edges, DishedWays{ways, *valve.dish}, centre, kEdgeSearch, best)) return std::nullopt;
        continue;
      }
      if (!search(foot.edges, ways, centre, kEdgeSearch, best)) return std::nullopt;
      if (s.height < 0 && (s.cuts_face || best.value < 0) && !search_plane(plane, ways, centre, kEdgeSearch, best))
        return std::nullopt;
    }
  }
  for (const Ball& ball : balls_)
    for (const ConvexOutline& piece : valve.pieces) {
      const Vec3 middle = into(ball.centre - centre);
      const double r = radius_of(middle);
      double dr = 0, dw = 0;
      const double height = piece.eval(r, middle.z, dr, dw) - ball.radius;
      if (height >= best.value) continue;
      const Vec3 foot = middle - ball.radius * lift_gradient(middle, r, dr, dw);
      if (holds(ball.face, centre + out(foot))) {
        if (height < 0) return std::nullopt;
        best = {height, foot, ball.face};
        continue;
      }
      const RadialWays ways{piece, middle, ball.radius, best.value};
      if (!search(ball.edges, ways, centre, kEdgeSearch, best) || best.value < 0) return std::nullopt;
    }
  const ValveFrame frame(centre, frame_.z);
  if (best.face >= 0) {
    const Vec3 n = into(normal(best.face, centre + out(best.point)));
    if (valve.filled && !meets_metal(shape, best.point, n, best.value)) return std::nullopt;
    if (shade(target_, all_, frame, best.point, n, best.value)) return std::nullopt;
  }
  const Found found = found_of(best, kEdgeSearch);
  return mesh_feet_.empty() ? found : with_mesh(found, face_gap(target_, mesh_feet_, all_, frame, on_mesh));
}

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
  const FromRim<decltype(normal_of)> from_rim{shape.profile.rim_radius,
                                              shape.profile.edge_radius,
                                              shape.distance.elements()[0].to.w - reach,
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
  if (!search(sides_, from_rim, centre, kEdgeSearch, best)) return std::nullopt;
  return finish(best);
}

double ExactGaps::deepest_on_planes(Vec3 centre, const Depth& depth, Nearest& best) const {
  const HeadDepth in_head{depth.head, depth.distance};
  for (const Plane& plane : planes_) {
    if (!search_plane(plane, in_head, centre, kSearch, best)) return -kInfinity;
    // Within the stem's radius: only a face that the axis passes through has places there, or edges.
    if (std::fabs(plane.turned.z) < kUpright) continue;
    const double down = dot(plane.normal, centre - plane.origin) / plane.turned.z;
    if (holds(plane.face, centre - down * frame_.z) &&
        !search_plane(plane, depth, centre, kSearch, best, depth.stem_radius))
      return -kInfinity;
  }
  return kInfinity;
}

double ExactGaps::deepest_on_planes(Vec3 centre, const DishedDepth& dished, Nearest& best) const {
  const Depth& depth = dished.depth;
  double unsure = kInfinity;
  for (const Plane& plane : planes_) {
    const Vec3 origin = into(plane.origin - centre);
    const auto place = [&](Vec3 q, double bound) {
      if (!holds(plane.face, centre + out(q))) return;
      double value = 0;
      depth.counts(q, plane.face, value);
      if (value < best.value) best = {value, q, plane.face};
      if (value > bound + kSearch) unsure = std::min(unsure, bound);
    };
    places_on_plane(origin, plane.turned, depth.head, dished.dish, best.value - kSearch, place);
    places_under_stem(origin, plane.turned, depth, dished.dish, best.value - kSearch, place);
  }
  return unsure;
}

std::optional<Found> ExactGaps::overlap(Vec3 centre, const ConvexValve& valve, const ValveShape& shape) const {
  if (edges_.empty()) return std::nullopt;
  Nearest best{0, {}, -1};
  const Depth depth{valve.pieces.front(), valve.upright, valve.stem_radius, shape.distance};
  const auto search_all = [&](const auto& function) {
    const double unsure = deepest_on_planes(centre, function, best);
    return unsure > -kInfinity && search_edges_and_curved(function, centre, best) && unsure >= best.value - kSearch;
  };
  const bool known = valve.dish ? search_all(DishedDepth{depth, *valve.dish, best.value}) : search_all(depth);
  if (!known) return std::nullopt;
  Found found = found_of(best, kSearch);
  if (best.face < 0) {  // no deeper than that
    found.value = 0;
    found.low = -kSearch;
  }
  if (!mesh_faces_.empty()) {
    std::vector<const FaceTree*> trees;
    for (int face : mesh_faces_) trees.push_back(&target_.tree(face));
    found = with_mesh(found, closest(trees, ValveFrame(centre, frame_.z), shape, found), target_.crown().error);
  }
  if (found.face < 0 && found.triangle < 0) return std::nullopt;
  return found;
}

}  // namespace eyebrow::gap
