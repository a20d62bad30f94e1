#include <algorithm>
#include <cmath>

#include "clip.hpp"
#include "outline.hpp"
#include "queries.hpp"

namespace eyebrow::gap {
namespace {

/// The rim on all of its path at once, against one face triangle after another.
class Radial {
 public:
  Radial(const Target& target, const ValveFrame& frame, const ValveShape& valve, double reach, double astray)
      : target_(target),
        frame_(frame),
        rim_(valve.profile.rim_radius),
        edge_(valve.profile.edge_radius),
        high_(valve.profile.margin),
        astray_(astray) {
    low_ = valve.distance.elements()[0].to.w - reach;  // foot of the margin or of its rounded edge
    const ProfileElement* edge = rim_edge_of(valve.distance.elements());
    full_ = edge ? edge->centre.w - reach : low_;
  }

  bool out_of_reach(const Box2& box) const {
    return box.low.w > high_ || box.high.w < low_ || box.low.r - rim_ >= best_.value;
  }

  void search(const Cell& cell) {
    search(cell, full_, high_);
    if (edge_ > 0) search(cell, low_, full_);
  }

  Found found() const {
    Found result = best_;
    result.low = std::min(best_.value, closed_);
    return result;
  }

 private:
  /// Below `full_` only the rounded edge passes; its radius there, on the last of the path.
  double rim_at(double w) const {
    if (w >= full_) return rim_;
    const double h = std::min(full_ - w, edge_);
    return rim_ - (edge_ - std::sqrt(edge_ * edge_ - h * h));
  }

  /// The part of the triangle between two heights; over the rounded edge halved as long as the rim's change matters.
  void search(const Cell& cell, double from, double to) {
    Polygon polygon = slab(cell, from, to);
    if (polygon.count == 0) return;
    double r = 0;
    Vec3 nearest = nearest_to_axis(polygon, r);
    double bound = r - rim_at(to);
    if (bound > 0) {
      if (bound >= best_.value) return;
      bool sure = true;
      polygon = facing(polygon, cell.triangle, sure);
      if (polygon.count == 0) return;
      nearest = nearest_to_axis(polygon, r);
      bound = r - rim_at(to);
      if (bound >= best_.value) return;
      if (!sure) {
        for (const Cell& half : halves(cell)) search(half, from, to);
        return;
      }
    }
    const bool even = rim_at(from) == rim_at(to), faces = bound > 0;
    if (!even && bound >= best_.value - kSearch) {
      closed_ = std::min(closed_, bound);
      return;
    }
    take(nearest, r, faces, cell.triangle);
    if (even) return;
    for (int i = 0; i < polygon.count; ++i) take(polygon.corner[i], radius_of(polygon.corner[i]), faces, cell.triangle);
    if (to - from < kTouch) {
      closed_ = std::min(closed_, bound);
      return;
    }
    // Halved by the arc's turn: near its foot the rim's radius changes fast.
    const double a = std::asin(std::min(1.0, (full_ - from) / edge_)),
                 b = std::asin(std::max(0.0, (full_ - to) / edge_));
    const double middle = full_ - edge_ * std::sin(0.5 * (a + b));
    search(cell, middle, to);
    search(cell, from, middle);
  }

  /// A wall that turns its back to the rim is behind metal. The face itself decides, not its triangle: a corner's
  /// lowest triangles look inward while its lowest places look up. Between the corners that is nearly linear. What it
  /// bends by counts as facing; where that matters and is no rounding the answer is not `sure`.
  Polygon facing(const Polygon& polygon, int triangle, bool& sure) const {
    std::array<double, 8> away{};
    std::array<Vec3, 8> normal;
    double bend = 0, least = kInfinity, most = -kInfinity, furthest = 0;
    for (int i = 0; i < polygon.count; ++i) {
      const Vec3 p = polygon.corner[i];
      normal[i] = normal_at(p, triangle);
      away[i] = turned(p, normal[i]);
      least = std::min(least, away[i]);
      most = std::max(most, away[i]);
      furthest = std::max(furthest, radius_of(p));
      for (int k = 0; k < i; ++k) {
        const Vec3 turn = normal[i] - normal[k], way = p - polygon.corner[k];
        const double far = std::max(radius_of(p), radius_of(polygon.corner[k]));
        bend = std::max(bend, std::fabs(turn.x * way.x + turn.y * way.y) / 4 + far * dot(turn, turn) / 8);
      }
    }
    sure = most <= -bend || least > bend || bend <= kEdgeOn * furthest;
    for (int i = 0; i < polygon.count; ++i) away[i] -= bend;
    return not_positive(polygon, away);
  }
  Vec3 normal_at(Vec3 p, int triangle) const {
    return frame_.turn_in(target_.exact_normal_at(triangle, frame_.out(p)));
  }
  double turned(Vec3 p, Vec3 normal) const {
    return normal.x * p.x + normal.y * p.y - astray_ * std::hypot(normal.x, normal.y);
  }

  void take(Vec3 p, double r, bool faces, int triangle) {
    const double value = r - rim_at(p.z);
    if (value >= best_.value || (value > 0 && !faces && turned(p, normal_at(p, triangle)) > 0)) return;
    best_ = {value, p, triangle, value};
  }

  const Target& target_;
  const ValveFrame& frame_;
  double rim_, edge_, low_ = 0, high_, full_ = 0, astray_;
  Found best_;
  double closed_ = kInfinity;  ///< least bound of what was put aside
};

}  // namespace

namespace {

Found least(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve,
            double reach, double astray) {
  Radial problem(target, frame, valve, reach, astray);
  const auto out_of_reach = [&](const Box2& box) { return problem.out_of_reach(box); };
  const auto visit = [&](const Cell& cell) { problem.search(cell); };
  for (int face : faces) walk(target.tree(face), frame, out_of_reach, visit);
  return problem.found();
}

}  // namespace

Found radial(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve,
             double reach, double astray) {
  Found found = least(target, faces, frame, valve, reach, astray);
  const double error = target.crown().error;
  if (error == 0) return found;
  // What stands this far from its surface may look at the rim where the surface ceases to, and a side seen edge on
  // makes much of that.
  Found nearest = least(target, faces, frame, valve, reach, astray + error);
  if (found.triangle < 0) {
    nearest.spent = nearest.triangle >= 0;
    return nearest;
  }
  found.low = std::min(found.low, nearest.low);
  return found;
}

}  // namespace eyebrow::gap
