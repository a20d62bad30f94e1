// The face gap from exact faces and edges.
#include <algorithm>
#include <array>
#include <cmath>

#include "ball_cut.hpp"
#include "exact_searches.hpp"
#include "ray.hpp"
#include "shade.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

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

/// The ways from a cone's point along the normals of all its sides: the least, and the side. The solid lies behind a
/// plane at each way t: one that turns by e is no less than t / (1 + e). Of a point that is outside the solid.
struct PointWay {
  double value;
  Vec3 side;  ///< outward from the axis
};
PointWay least_from_point(const ConeWays& ways, Vec3 point, double enough) {
  struct Part {
    double middle, half;
  };
  constexpr int kParts = 16;
  constexpr double kNarrowest = 1e-9;  // radians
  const Frame about = frame_about({}, ways.axis);
  PointWay least{enough, {}};
  std::vector<Part> open;
  for (int i = 0; i < kParts; ++i) open.push_back({(2 * i + 1) * kPi / kParts, kPi / kParts});
  while (!open.empty()) {
    const auto [middle, half] = open.back();
    open.pop_back();
    const Vec3 side = std::cos(middle) * about.x + std::sin(middle) * about.y;
    const Vec3 n = ways.level * side + ways.up * ways.axis;
    const Way way = way_to(ways.solid, point, n);
    double low = 0;
    if (way.met) {
      if (way.length < least.value) least = {way.length, side};
      const double turn =
          std::fabs(dot(way.slope, cross(ways.axis, side))) * half + 0.5 * norm(way.slope) * half * half;
      low = way.length / (1 + ways.level * turn);
    } else {
      const double far = std::min(least.value, norm(point) + ways.solid.extent());
      low = least_way(ways.solid, point, n, far * ways.level * half);
    }
    if (low >= least.value - kEdgeSearch || half < kNarrowest) continue;
    open.push_back({middle - 0.5 * half, 0.5 * half});
    open.push_back({middle + 0.5 * half, 0.5 * half});
  }
  return least;
}

}  // namespace

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

/// Where the way is least, but for the cone's edges and its point, the valve is nearest to the whole cone: how far a
/// place of the valve lies outside the cone is a convex function, so that it is least in one place or over a stretch
/// that is whole.
bool ExactGaps::off_cone(const Cone& cone, Vec3 centre, const ConvexOutline& piece, Nearest& best) const {
  const Face& face = target_.crown().faces[static_cast<std::size_t>(cone.face)];
  const Vec3 origin = into(face.frame.origin - centre), axis = into(face.frame.z);
  const ConeWays ways{piece, origin, axis, std::cos(face.radius2), -std::sin(face.radius2), best.value};
  Nearest whole{best.value, {}, -1};
  if (!SheetSearch(bulges_[cone.bulge], Distance{piece}, into(centre), kFootSearch, kSheetBudget, whole, 0).run())
    return false;
  if (whole.face < 0) return true;
  const bool pointed = target_.trims()[static_cast<std::size_t>(cone.face)].has_point();
  if (whole.value <= 0) {
    if (holds(cone.face, centre + out(whole.point))) return false;
  } else {
    // Under the valve's place that is nearest: a way from beside that may go past a sharp rim.
    double dr = 0, dw = 0;
    const double r = radius_of(whole.point), far = piece.eval(r, whole.point.z, dr, dw);
    const Vec3 place = whole.point - far * lift_gradient(whole.point, r, dr, dw);
    const double way = off_surface(face, centre + out(place));
    const Vec3 foot = place - way * ways.ray(place);
    const bool beyond = dot(ways.off_axis(foot), ways.off_axis(place)) <= 0;
    if (!beyond && holds(cone.face, centre + out(foot))) {
      best = {way, foot, cone.face};
      return true;
    }
  }
  if (pointed) {
    const Vec3 point = origin - (face.radius / std::tan(face.radius2)) * axis;
    double dr = 0, dw = 0;
    if (piece.eval(radius_of(point), point.z, dr, dw) <= 0) return false;
    const PointWay least = least_from_point(ways, point, best.value);
    // Its foot a hair down its side, where the cone has a normal.
    if (least.value < best.value)
      best = {least.value, point + kBrink * (ways.up * least.side - ways.level * axis), cone.face};
  }
  // Where the valve reaches through the cone beside the face no way is least but on an edge.
  return search(cone.edges, ways, centre, kEdgeSearch, best);
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
      const BallCut near = ball_cut(piece, middle, ball.radius);
      if (near.height >= best.value) continue;
      if (holds(ball.face, centre + out(near.foot)) && (near.height >= 0 || near.foot_within)) {
        best = {near.height, near.foot, ball.face};
        continue;
      }
      if (near.height < 0 && holds(ball.face, centre + out(near.cut))) return std::nullopt;
      const RadialWays ways{piece, middle, ball.radius, best.value};
      if (!search(ball.edges, ways, centre, kEdgeSearch, best) || best.value < 0) return std::nullopt;
    }
  for (const Cone& cone : cones_)
    for (const ConvexOutline& piece : valve.pieces)
      if (!off_cone(cone, centre, piece, best) || best.value < 0) return std::nullopt;
  const ValveFrame frame(centre, frame_.z);
  if (best.face >= 0) {
    const Vec3 n = into(normal(best.face, centre + out(best.point)));
    if (valve.filled && !meets_metal(shape, best.point, n, best.value)) return std::nullopt;
    if (shade(target_, all_, frame, best.point, n, best.value)) return std::nullopt;
  }
  const Found found = found_of(best, kEdgeSearch);
  return mesh_feet_.empty() ? found : with_mesh(found, face_gap(target_, mesh_feet_, all_, frame, on_mesh));
}

}  // namespace eyebrow::gap
