#include <algorithm>
#include <cmath>

#include "face_to_ball.hpp"
#include "queries.hpp"
#include "ray.hpp"
#include "shade.hpp"

namespace eyebrow::gap {
namespace {

class FaceGap {
 public:
  FaceGap(const Target& target, const std::vector<int>& all, const ValveFrame& frame, const ValveShape& valve)
      : target_(target),
        all_(all),
        frame_(frame),
        valve_(valve),
        ball_(valve.distance),
        dished_(&valve.distance != &valve.filled) {}

  /// A plane's first meeting with the whole valve is a lower bound for every foot on it, and the answer where its own
  /// foot is on the face and sees it. True when the least cannot lie inside the face but only there or on its rim: the
  /// way to a convex valve is a convex function of the foot. Not so where the valve is dished, nor where it is buried
  /// past that foot. (The stem makes the valve hollow, but only rays that pass the head by see it.)
  bool support(int face, Found& best) {
    const FaceTree& tree = target_.tree(face);
    if (tree.pieces.empty()) return true;
    const Vec3 n = frame_.turn_in(target_.normal(tree.pieces.front().triangle));
    const double side = std::sqrt(n.x * n.x + n.y * n.y);
    const Point2 q = valve_.distance.support(-side, n.z);
    const Vec3 at = side > 0 ? Vec3{-q.r * n.x / side, -q.r * n.y / side, q.w} : Vec3{q.r, 0, q.w};
    const Cell plane = cell_of(tree.pieces.front(), frame_);
    const double height = dot(n, at - plane.corner[0]);
    supports_.push_back({face, height});
    if (height >= best.value) return true;
    const Vec3 foot = at - height * n;
    if (height < 0 && !valve_.distance.inside(radius_of(foot), foot.z)) return false;
    const int triangle = triangle_at(tree, frame_, foot, n);
    if (triangle >= 0 && blocked(foot, n, height)) return false;
    if (triangle >= 0) best = {height, foot, triangle, height};
    return !dished_;
  }

  double node_bound(const NodeBox& node, double) const {
    // Inside, the way out along a normal can be longer than the depth, so an overlap is opened whatever it promises.
    const double ball = valve_.distance.eval(radius_of(node.centre), node.centre.z).value - node.radius;
    const double near = std::max(ball, valve_.distance.box_bound(node.box));
    return near < 0 ? -kInfinity : near;
  }

  double cell_bound(const Cell& cell, Found& best) {
    const Vec3 c = cell.centre();
    const double rho = cell.radius(c);
    const double r = radius_of(c);
    const double near = valve_.distance.eval(r, c.z).value - rho;
    if (near >= 0 && near >= best.value) return near;
    const int face = target_.crown().triangles[cell.triangle].face;
    const bool planar = target_.crown().faces[face].kind == Surface::plane;
    const Target::Normal normal = target_.normal_at(cell.triangle, frame_.out(c));
    const Vec3 n = frame_.turn_in(normal.unit);
    // How far the feet's unit normals stray from the middle one, at most.
    const double turn = rho * normal.turn, stray = turn < 0.5 ? turn / (1 - turn) : 2;
    double bound = near >= 0 ? near : -kInfinity;
    if (planar) {
      bound = std::max(bound, support_of(face));
      if (bound >= best.value - kSearch) return bound;
      for (const Tangent& t : tangents_of(face)) bound = std::max(bound, t.least(cell, 0));
      if (bound >= best.value - kSearch) return bound;
    }
    if (near >= 0) {
      Vec3 corner;
      const double way = way_to_valve_face(cell, face, n, corner);
      if (way > -kInfinity) take(corner, cell.triangle, best);
      bound = std::max(bound, way);
      if (bound >= best.value - kSearch) return bound;
    }
    const Meeting here = first_meeting(valve_.distance, c, n);
    bool hidden = false;
    if (here.met && here.at < best.value) {
      hidden = blocked(c, n, here.at);
      if (!hidden) best = {here.at, c, cell.triangle, here.at};
    }
    Tangent own;
    if (make_tangent(c, n, here, own)) {
      bound = std::max(bound, own.least(cell, stray));
      if (planar) keep(face, own);
    }
    if (bound >= best.value - kSearch) return bound;
    // All rays of the cell stay within a tube about the middle one; a curved face spreads them with the way they go.
    // Where feet may lie inside, the way back out of the metal is bounded alike.
    const double furthest = r + std::fabs(c.z) + 2 * valve_.profile.rim_radius;
    const double way = near < 0 ? furthest : std::min({std::max(here.at, 0.0), std::max(best.value, 0.0), furthest});
    const double tube = earliest_meeting(valve_, c, n, rho + stray * way, near < 0);
    bound = std::max(bound, tube);
    // The least may be approached at a foot whose own ray just misses. What a foot this near would meet counts as met.
    if (rho < kBrink && tube < best.value && !blocked(c, n, tube)) best = {tube, c, cell.triangle, tube};
    if (here.met && !hidden) return bound;
    // Feet that cannot see the valve. A plane's rays are parallel: what stands in the way of the middle and all three
    // corners, nearer than the valve can be to any foot, stands in the way of all. Else, once a hidden cell is small,
    // its rim of doubt is below what matters.
    shades_ |= hidden;
    if (planar && near >= 0 && shades_ && shaded(cell, c, n, bound)) return kInfinity;
    if (hidden && rho < 0.05 && corners_hidden(cell, n)) return kInfinity;
    return bound;
  }

 private:
  double way_to_valve_face(const Cell& cell, int face, Vec3 n, Vec3& corner) const {
    const Face& crown = target_.crown().faces[face];
    if (crown.kind == Surface::plane) return way_to_ball(ball_, cell, n, corner);
    if (crown.kind != Surface::sphere) return -kInfinity;
    const Vec3 from = frame_.in(crown.frame.origin);
    return way_to_ball(ball_, cell, from, dot(n, cell.corner[0] - from) > 0, corner);
  }

  /// Tries a foot.
  void take(Vec3 foot, int triangle, Found& best) const {
    const Vec3 n = frame_.turn_in(target_.normal_at(triangle, frame_.out(foot)).unit);
    const Meeting here = first_meeting(valve_.distance, foot, n);
    if (here.met && here.at < best.value && !blocked(foot, n, here.at)) best = {here.at, foot, triangle, here.at};
  }

  /// A plane that the valve lies behind, as a lower bound of the way from feet to the valve.
  struct Tangent {
    Vec3 normal, foot;
    double at, facing;
    /// Over a cell whose unit normals stray by no more than this from the one that the plane was found along.
    double least(const Cell& cell, double stray) const {
      double low = kInfinity;
      for (const Vec3& corner : cell.corner) low = std::min(low, dot(normal, corner - foot));
      const double height = at * facing + low;
      if (height >= 0) return height / std::min(1.0, facing + stray);
      return facing > stray ? height / (facing - stray) : -kInfinity;
    }
  };

  double support_of(int face) const {
    for (const auto& [of, way] : supports_)
      if (of == face) return way;
    return -kInfinity;
  }

  std::vector<Tangent>& tangents_of(int face) {
    for (auto& [of, tangents] : tangents_)
      if (of == face) return tangents;
    tangents_.push_back({face, {}});
    return tangents_.back().second;
  }

  /// A convex body lies behind the tangent plane where the middle ray meets it.
  bool make_tangent(Vec3 c, Vec3 n, Meeting meeting, Tangent& tangent) const {
    if (dished_) meeting = first_meeting(valve_.filled, c, n);
    if (!meeting.met || valve_.filled.elements()[meeting.element].part > ValvePart::margin) return false;
    const Vec3 y = c + meeting.at * n;
    const double r = radius_of(y);
    const ElementView v = valve_.filled.view(meeting.element, r, y.z);
    const Vec3 normal = lift_gradient(y, r, v.sr, v.sw);
    const double facing = -dot(normal, n);
    if (facing <= 1e-6) return false;
    tangent = {normal, c, meeting.at, facing};
    return true;
  }

  /// Keeps the newest few planes of a planar face.
  void keep(int face, const Tangent& tangent) {
    auto& tangents = tangents_of(face);
    constexpr std::size_t kKept = 24;
    if (tangents.size() >= kKept) tangents.erase(tangents.begin());
    tangents.push_back(tangent);
  }

  /// Does one triangle stand between all of a cell's feet and the valve, which is no nearer than `way`?
  bool shaded(const Cell& cell, Vec3 middle, Vec3 n, double way) const {
    const Piece* piece = obstacle(middle, n, way);
    if (!piece) return false;
    return std::ranges::all_of(cell.corner, [&](Vec3 foot) {
      return crosses(frame_.out(foot + kShadeEnd * n), frame_.turn_out((way - 2 * kShadeEnd) * n), *piece);
    });
  }

  /// Does metal stand between the foot and the valve?
  bool blocked(Vec3 foot, Vec3 n, double length) const { return obstacle(foot, n, length) != nullptr; }

  const Piece* obstacle(Vec3 foot, Vec3 n, double length) const {
    return shade(target_, all_, frame_, foot, n, length);
  }

  bool corners_hidden(const Cell& cell, Vec3 n) const {
    for (const Vec3& corner : cell.corner) {
      const Meeting m = first_meeting(valve_.distance, corner, n);
      if (m.met && !blocked(corner, n, m.at)) return false;
    }
    return true;
  }

  const Target& target_;
  const std::vector<int>& all_;
  const ValveFrame& frame_;
  const ValveShape& valve_;
  FaceBall ball_;
  bool dished_;
  bool shades_ = false;  ///< some metal was found to hide the valve from a foot
  std::vector<std::pair<int, double>> supports_;
  std::vector<std::pair<int, std::vector<Tangent>>> tangents_;
};

}  // namespace

Found face_gap(const Target& target, const std::vector<int>& faces, const std::vector<int>& all,
               const ValveFrame& frame, const ValveShape& valve) {
  FaceGap problem(target, all, frame, valve);
  std::vector<const FaceTree*> trees;
  Found start;
  for (int face : faces) {
    const bool plane = target.crown().faces[face].kind == Surface::plane;
    trees.push_back(plane && problem.support(face, start) ? &target.rim(face) : &target.tree(face));
  }
  return least(trees, frame, problem, kSearch, start);
}

}  // namespace eyebrow::gap
