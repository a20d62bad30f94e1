#include <algorithm>
#include <cmath>

#include "queries.hpp"

namespace eyebrow::gap {
namespace {

class Closest {
 public:
  explicit Closest(const ValveShape& valve) : valve_(valve) {}

  double node_bound(const NodeBox& node, double enough) const {
    const double r = radius_of(node.centre);
    const double middle = valve_.distance.eval(r, node.centre.z).value;
    double bound = middle - node.radius;
    if (bound < enough) bound = std::max(bound, valve_.distance.box_bound(node.box));
    if (bound < enough && middle > 0) bound = std::max(bound, tangent_bound(node, r));
    return bound;
  }

  double cell_bound(const Cell& cell, Found& best) const {
    const Vec3 c = cell.centre();
    const double rho = cell.radius(c);
    const double r = radius_of(c);
    const SignedDistance here = valve_.distance.eval(r, c.z);
    take(c, here.value, cell, best);
    const double lipschitz = here.value - rho;
    if (lipschitz >= best.value) return lipschitz;
    double bound = -kInfinity;
    if (here.value > 0) {
      // A dish filled in is convex from below and no further away; mostly that says enough.
      const bool dished = &valve_.filled != &valve_.distance;
      if (dished && !valve_.filled.inside(r, c.z)) bound = outside_bound(valve_.filled, cell, c, r, rho, best);
      if (bound < best.value - kSearch) bound = std::max(bound, outside_bound(valve_.distance, cell, c, r, rho, best));
    }
    // Only a cell that keeps away from every part of the outline lies wholly outside; any other may dip into the metal.
    if (bound <= 0) bound = std::min(0.0, dipping_bound(cell, c, r, rho));
    return std::max(bound, lipschitz);
  }

 private:
  void take(Vec3 q, double value, const Cell& cell, Found& best) const {
    if (value < best.value) {
      best.value = value;
      best.point = q;
      best.triangle = cell.triangle;
      best.face = -1;
    }
  }

  /// Least of gradient . (corner - c) over the corners, with the corner that gives it.
  static double slope(const Cell& cell, Vec3 c, Vec3 gradient, Vec3& corner) {
    double least = kInfinity;
    for (const Vec3& v : cell.corner) {
      const double s = dot(gradient, v - c);
      if (s < least) {
        least = s;
        corner = v;
      }
    }
    return least;
  }

  /// What the tangent plane at `at` may promise too much within the cell: hollow arcs bend the distance down in the
  /// half plane, and where it falls with r a step t along the azimuth raises r by up to t^2 / (2 a).
  static double sag(const Cell& cell, Vec3 at, double r, double rho, const ElementView& v) {
    double sag = 0;
    if (v.bend > 0) {
      if (v.bend * rho >= 0.5) return kInfinity;
      sag += 0.5 * v.bend / (1 - v.bend * rho) * rho * rho;
    }
    if (v.dr < 0) {
      if (r < 1e-9) return kInfinity;
      const double ux = at.x / r, uy = at.y / r;
      double least = kInfinity, across = 0;
      for (const Vec3& corner : cell.corner) {
        const double dx = corner.x - at.x, dy = corner.y - at.y;
        least = std::min(least, r + ux * dx + uy * dy);
        across = std::max(across, std::fabs(ux * dy - uy * dx));
      }
      if (least <= 0) return kInfinity;
      sag += -v.dr * across * across / (2 * least);
    }
    return sag;
  }

  /// What one element's tangent plane at `at` says of the cell.
  double tangent_bound(const ProfileDistance& outline, const Cell& cell, int element, Vec3 at, Found& best) const {
    const double r = radius_of(at);
    const double rho = cell.radius(at);
    const ElementView v = outline.view(element, r, at.z);
    Vec3 corner;
    const double flat = v.distance + slope(cell, at, lift_gradient(at, r, v.dr, v.dw), corner);
    if (flat < best.value) take(corner, valve_.distance.eval(radius_of(corner), corner.z).value, cell, best);
    return std::max(flat - sag(cell, at, r, rho, v), v.distance - rho);
  }

  /// The same over a node's box: tight where the box is thin, as over a plane face that is tilted against the valve.
  /// Says nothing unless the box keeps away from every element.
  double tangent_bound(const NodeBox& node, double r) const {
    double least = kInfinity;
    for (int i = 0; i < valve_.distance.size(); ++i) {
      const ElementView v = valve_.distance.view(i, r, node.centre.z);
      const Vec3 g = lift_gradient(node.centre, r, v.dr, v.dw);
      double own = v.distance;
      for (const Vec3& edge : node.half) own -= std::fabs(dot(g, edge));
      if (v.bend > 0) {
        if (v.bend * node.radius >= 0.5) return -kInfinity;
        own -= 0.5 * v.bend / (1 - v.bend * node.radius) * node.radius * node.radius;
      }
      if (v.dr < 0) {
        if (node.box.low.r <= 0) return -kInfinity;
        own += v.dr * node.radius * node.radius / (2 * node.box.low.r);
      }
      least = std::min(least, std::max(own, v.distance - node.radius));
    }
    return least > 0 ? least : -kInfinity;
  }

  /// The cell's point nearest to one element, by going to and fro between the two: there the tangent says most.
  static Vec3 facing_point(const ProfileDistance& outline, const Cell& cell, int element, Vec3 from) {
    Vec3 x = from;
    for (int i = 0; i < 4; ++i) {
      const double r = radius_of(x);
      const ElementView v = outline.view(element, r, x.z);
      const Vec3 foot = x - v.distance * lift_gradient(x, r, v.dr, v.dw);
      const Vec3 next = nearest_on(cell, foot);
      const Vec3 step = next - x;
      x = next;
      if (dot(step, step) < 1e-12) break;
    }
    return x;
  }

  double outside_bound(const ProfileDistance& outline, const Cell& cell, Vec3 c, double r, double rho,
                       Found& best) const {
    double bound = kInfinity;
    for (int i = 0; i < outline.size(); ++i) {
      if (outline.view(i, r, c.z).distance - rho >= std::min(bound, best.value)) continue;
      double own = tangent_bound(outline, cell, i, c, best);
      if (own < best.value - kSearch) {
        const Vec3 x = facing_point(outline, cell, i, c);
        take(x, valve_.distance.eval(radius_of(x), x.z).value, cell, best);
        own = std::max(own, tangent_bound(outline, cell, i, x, best));
      }
      bound = std::min(bound, own);
    }
    return std::min(bound, best.value);
  }

  /// Inside, the depth is at most the distance to any element that the foot lies in. Either one element holds the feet
  /// of all metal in the cell, or two that meet in a joint which is not hollow do so together.
  double dipping_bound(const Cell& cell, Vec3 c, double r, double rho) const {
    const ProfileDistance& outline = valve_.distance;
    double bound = -kInfinity,
           before = -kInfinity;  // `before`: of the element before, when its far end is out of reach
    for (int i = 0; i < outline.size(); ++i) {
      const ElementView v = outline.view(i, r, c.z);
      const bool from = i == 0 || v.from_by >= rho || outline.joint_keeps(i - 1);
      const bool to = i + 1 == outline.size() || v.to_by >= rho || outline.joint_keeps(i);
      const double own = from || to ? side_bound(cell, c, r, rho, i, v) : -kInfinity;
      if (to) bound = std::max(bound, from ? own : std::min(own, before));
      before = from && outline.joint_covers(i) ? own : -kInfinity;
    }
    return bound;
  }

  /// No metal of the cell with its foot in the element is deeper; what lies before an element is void.
  double side_bound(const Cell& cell, Vec3 c, double r, double rho, int element, const ElementView& v) const {
    Vec3 corner;
    const double flat = v.side + slope(cell, c, lift_gradient(c, r, v.sr, v.sw), corner);
    const ProfileElement& e = valve_.distance.elements()[element];
    const bool hollow = e.radius > 0 && !e.bulges;
    if (!hollow && v.sr >= 0) return flat;  // convex: nowhere below its tangent plane
    // A hollow arc bends `side` down by 1/radius, and where `side` falls with r so does the turn about the axis.
    double bend = 0;
    if (hollow) {
      if (e.radius - v.side <= 2 * rho) return -kInfinity;
      bend += 1 / (e.radius - v.side - rho);
    }
    if (v.sr < 0 && !(hollow && e.centre.r == 0)) {
      if (r <= 2 * rho) return -kInfinity;
      bend -= v.sr / (r - rho);
    }
    return flat - 0.5 * bend * rho * rho;
  }

  const ValveShape& valve_;
};

/// The valve's distance from a whole plane, where the plane keeps clear of it: the least over the face is then there,
/// or on the face's rim, as the distance to a convex valve is convex. (A stem makes it the lesser of two such.) False
/// where that does not hold: the plane cuts the valve, or the valve is dished.
bool clear_plane(const FaceTree& tree, Vec3 n, const ValveFrame& frame, const ValveShape& valve, Found& best) {
  const double side = std::sqrt(n.x * n.x + n.y * n.y);
  const Point2 q = valve.filled.support(-side, n.z);
  const Vec3 at = side > 0 ? Vec3{-q.r * n.x / side, -q.r * n.y / side, q.w} : Vec3{q.r, 0, q.w};
  const double height = dot(n, at - cell_of(tree.pieces.front(), frame).corner[0]);
  if (height < 0) return false;
  if (height >= best.value) return &valve.filled == &valve.distance;
  const Vec3 foot = at - height * n;
  const int triangle = triangle_at(tree, frame, foot, n);
  const double value = valve.distance.eval(radius_of(foot), foot.z).value;  // more than the height over a dish
  if (triangle >= 0 && value < best.value) best = {value, foot, triangle, value};
  return &valve.filled == &valve.distance;
}

}  // namespace

Found closest(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve) {
  Closest problem(valve);
  Found start;
  std::vector<const FaceTree*> trees;
  for (int face : faces) {
    const FaceTree& tree = target.tree(face);
    if (tree.pieces.empty()) continue;
    const bool plane = target.crown().faces[face].kind == Surface::plane;
    const bool rim =
        plane && clear_plane(tree, frame.turn_in(target.normal(tree.pieces.front().triangle)), frame, valve, start);
    trees.push_back(rim ? &target.rim(face) : &tree);
  }
  return least(trees, frame, problem, kSearch, start);
}

Found closest(const std::vector<const FaceTree*>& trees, const ValveFrame& frame, const ValveShape& valve,
              const Found& start) {
  Closest problem(valve);
  return least(trees, frame, problem, kSearch, start);
}

}  // namespace eyebrow::gap
