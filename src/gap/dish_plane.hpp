// Where on a plane a dished valve may be deepest.
#pragma once
#include <algorithm>
#include <cmath>
#include <vector>

#include "convex_line.hpp"
#include "exact_functions.hpp"

namespace eyebrow::gap {

/// The line on which a plane meets the plane that holds the valve's axis and its normal: both are symmetric to the
/// latter. On a level plane any line through the axis does.
struct SymmetryLine {
  Vec3 from, along;
  double axis;  ///< where the valve's axis crosses; of no meaning where it is parallel to the plane

  SymmetryLine(Vec3 plane, Vec3 normal) {
    const double off = dot(normal, plane);
    const Vec3 up{-normal.z * normal.x, -normal.z * normal.y, 1 - normal.z * normal.z};  // the axis within the plane
    const double share = norm(up);
    const bool level = share < kUpright;
    from = level ? Vec3{0, 0, off / normal.z} : off * normal;
    along = level ? Vec3{1, 0, 0} : (1 / share) * up;
    axis = level ? 0 : along.z * off / normal.z;
  }
  Vec3 at(double t) const { return from + t * along; }
  /// Of a function of r and w that does not fall with r.
  template <class Function>
  Tangent tangent(double t, const Function& function) const {
    const Vec3 q = at(t);
    const double r = radius_of(q);
    double dr = 0, dw = 0;
    const double value = function(r, q.z, dr, dw);
    return {value, (r > 0 ? dr * (q.x * along.x + q.y * along.y) / r : 0) + dw * along.z};
  }
};

/// What is least on a plane face, but for its edges, of max(signed distance from the filled valve, minus the distance
/// from the dish's hollow). Off the line of symmetry a least on the plane is one in the half plane (r, w) as well:
/// those are known. On that line one of the two is convex, the other's negative too, so that they are the same at two
/// places at most; between these the greater has no least inside, beyond them only the convex one's.
///
/// `place(q, bound)` takes such a place, `bound` being that greater one's value there. `least`: places with no less
/// than that are left out.
template <class Place>
void places_on_plane(Vec3 plane, Vec3 normal, const ConvexOutline& head, const Dish& dish, double least,
                     const Place& place) {
  const SymmetryLine line(plane, normal);
  const auto filled = [&](double r, double w, double& dr, double& dw) { return head.eval(r, w, dr, dw); };
  const auto depth = [&](double t) { return line.tangent(t, filled); };
  // The rest of what is known lies within the head, which the line leaves within this.
  const double most = head.extent();
  const Lowest lowest = lowest_between(-most, most, depth, -INFINITY, least);
  if (lowest.bound >= least) return;
  const auto both = [&](double t) {
    return line.tangent(t, [&](double r, double w, double& dr, double& dw) {
      double r2 = 0, w2 = 0;
      const double value = head.eval(r, w, dr, dw) + dish.eval(r, w, r2, w2);
      dr += r2;
      dw += w2;
      return value;
    });
  };
  const auto greater = [&](Vec3 q) {
    double dr = 0, dw = 0;
    return std::max(head.eval(radius_of(q), q.z, dr, dw), -dish.eval(radius_of(q), q.z, dr, dw));
  };
  const auto look_at = [&](Vec3 q) {
    const double bound = greater(q);
    if (bound < least) place(q, bound);
  };
  const auto hollow = not_positive(-most, most, both);
  if (hollow)
    for (const double t : {hollow->first, hollow->second}) look_at(line.at(t));
  if (!hollow || lowest.at < hollow->first || lowest.at > hollow->second) look_at(line.at(lowest.at));
  const double side = diagonal(normal.x, normal.y), off = dot(normal, plane);
  if (side < kUpright) return;
  for (const Point2& deep : dish.deepest()) {
    const double cosine = (off - normal.z * deep.w) / (side * deep.r);
    if (std::fabs(cosine) > 1) continue;
    const double sine = std::sqrt(1 - cosine * cosine);
    const double x = normal.x / side, y = normal.y / side;
    for (const double turn : {sine, -sine})
      look_at({deep.r * (cosine * x - turn * y), deep.r * (cosine * y + turn * x), deep.w});
  }
}

/// No place of a plane within the stem's radius is deeper than this: of the upright hull's distance and minus the
/// hollow's the greater. Aside of the line of symmetry the hull is nowhere nearer, and the hollow no nearer than at the
/// stem's radius. Over a piece of the line the one lies above its tangent, the other, concave, above its ends. `sure`:
/// what is no less need not be known better. normal.z is not 0.
inline double bound_under_stem(Vec3 plane, Vec3 normal, const Depth& depth, const Dish& dish, double sure) {
  constexpr double kFine = 1e-7;  // mm
  const SymmetryLine line(plane, normal);
  const auto upright = [&](double r, double w, double& dr, double& dw) { return depth.upright.eval(r, w, dr, dw); };
  const auto beside = [&](double t) { return -dish.distance(depth.stem.r, line.at(t).z); };
  struct Piece {
    double middle, half;
  };
  double met = INFINITY, bound = INFINITY;
  std::vector<Piece> open{{line.axis, depth.stem.r / std::fabs(normal.z)}};
  while (!open.empty()) {
    const auto [middle, half] = open.back();
    open.pop_back();
    const Tangent sides = line.tangent(middle, upright);
    const double hollow = std::min(beside(middle - half), beside(middle + half));
    const double low = std::max(sides.value - std::fabs(sides.slope) * half, hollow);
    met = std::min(met, std::max(sides.value, beside(middle)));
    if (low >= sure) continue;
    if (half < kFine || low > met - kFine) {
      bound = std::min(bound, low);
      continue;
    }
    open.push_back({middle - 0.5 * half, 0.5 * half});
    open.push_back({middle + 0.5 * half, 0.5 * half});
  }
  return bound;
}

}  // namespace eyebrow::gap
