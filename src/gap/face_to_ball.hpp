// Ways along a crown face's normals to a domed or dished valve face, which is part of a ball.
#pragma once
#include "search.hpp"

namespace eyebrow::gap {

/// The ball of a valve face in the valve's frame; radius 0 = the valve face is no ball.
struct FaceBall {
  Vec3 centre;
  double radius = 0;
  bool hollow = false;  ///< dished
  double rim = 0;       ///< w of the valve face's outer end; no other part of the valve reaches below it

  explicit FaceBall(const ProfileDistance& valve) {
    const ProfileElement& face = valve.elements().front();
    if (face.part != ValvePart::face || face.radius <= 0 || face.centre.r != 0) return;
    centre = {0, 0, face.centre.w};
    radius = face.radius;
    hollow = !face.bulges;
    rim = face.to.w;
  }
};

/// A lower bound of the ways from a cell that keeps out of the valve, all along the unit vector n, when every one ends
/// on a dished valve face; -infinity when not all do. The way to the ball is a concave function of the foot: least at a
/// corner, which is given. Ends above the rim plane mark off a convex set of feet, as the end's w is concave, too; on
/// their way through the ball and the dish there is nothing to meet.
inline double way_to_ball(const FaceBall& ball, const Cell& cell, Vec3 n, Vec3& corner) {
  if (ball.radius <= 0 || !ball.hollow || n.z <= 0) return -kInfinity;
  double least = kInfinity;
  for (const Vec3& foot : cell.corner) {
    const Vec3 d = foot - ball.centre;
    const double along = dot(d, n), inside = ball.radius * ball.radius - dot(d, d);
    if (inside < 0) return -kInfinity;
    const double way = std::sqrt(inside + along * along) - along;
    if (foot.z + way * n.z < ball.rim) return -kInfinity;
    if (way >= least) continue;
    least = way;
    corner = foot;
  }
  return least;
}

/// The same from a cell of a ball-shaped crown face about `from`, along the lines through `from`: outward from a bump
/// to a dished valve face, inward from a hollow to a domed one. With c from that centre to the valve's and a line's
/// unit vector v, the line leaves the valve's ball at t = c.v + sqrt(radius^2 - |c|^2 + (c.v)^2), which grows with c.v.
/// The disc that the valve face is cut by, seen from the centre, is a convex cone of lines.
inline double way_to_ball(const FaceBall& ball, const Cell& cell, Vec3 from, bool outward, Vec3& corner) {
  const Vec3 c = ball.centre - from;
  const double rest = ball.radius * ball.radius - dot(c, c);
  if (ball.radius <= 0 || ball.hollow != outward || rest <= 0 || (from.z < ball.rim) != outward) return -kInfinity;
  const double sign = outward ? 1 : -1;
  const auto leaves = [&](double x) { return x + std::sqrt(rest + x * x); };
  double least = kInfinity, furthest = 0, extreme = kInfinity;
  for (const Vec3& foot : cell.corner) {
    const Vec3 d = foot - from;
    const double length = norm(d), t = leaves(dot(c, d) / length), way = sign * (t - length);
    const double end = from.z + t * d.z / length;
    if (way < 0 || sign * (end - ball.rim) < 0) return -kInfinity;
    furthest = std::max(furthest, length);
    extreme = std::min(extreme, sign * dot(c, d));
    if (way >= least) continue;
    least = way;
    corner = foot;
  }
  // c.d is least or greatest at a corner; the feet lie on chords, so that their distance from the centre varies.
  const double nearest = norm(nearest_on(cell, from) - from);
  if (nearest <= 0) return -kInfinity;
  const double turned = sign * extreme / ((extreme > 0) ? furthest : nearest);
  return sign * (leaves(turned) - (outward ? furthest : nearest));
}

}  // namespace eyebrow::gap
