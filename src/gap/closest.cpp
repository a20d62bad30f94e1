#include <algorithm>
#include <cmath>

#include "queries.hpp"

namespace eyebrow::gap {
namespace {

class Closest {
 public:
  explicit Closest(const ValveShape& valve) : valve_(valve) {}

  double node_bound(Vec3 centre, const TreeNode& node) const {
    return valve_.distance.eval(radius_of(centre), centre.z).value - node.radius;
  }

  double cell_bound(const Cell& cell, Found& best) const {
    const Vec3 c = cell.centre();
    const double rho = cell.radius(c);
    const double r = radius_of(c);
    const SignedDistance here = valve_.distance.eval(r, c.z);
    take(c, here.value, cell, best);
    const double lipschitz = here.value - rho;
    if (lipschitz >= best.value) return lipschitz;
    double bound = here.value > 0 ? outside_bound(cell, c, r, rho, best) : -kInfinity;
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

  /// What curvature can take from a tangent plane within rho: hollow arcs in the half plane, and the turn about the
  /// axis where the distance falls with r. Infinite when the cell reaches the axis or the arc's centre.
  static double sag(const ElementView& v, double dr, double r, double rho) {
    double modulus = 0;
    if (v.bend > 0) {
      if (v.bend * rho >= 0.5) return kInfinity;
      modulus += v.bend / (1 - v.bend * rho);
    }
    if (dr < 0) {
      if (r <= 2 * rho) return kInfinity;
      modulus += 1.0 / (r - rho);
    }
    return 0.5 * modulus * rho * rho;
  }

  double outside_bound(const Cell& cell, Vec3 c, double r, double rho, Found& best) const {
    double bound = kInfinity;
    for (int i = 0; i < valve_.distance.size(); ++i) {
      const ElementView v = valve_.distance.view(i, r, c.z);
      const double near = v.distance - rho;
      if (near >= bound) continue;
      Vec3 corner;
      const double flat = v.distance + slope(cell, c, lift_gradient(c, r, v.dr, v.dw), corner);
      const double tight = flat - sag(v, v.dr, r, rho);
      bound = std::min(bound, std::max(near, tight));
      if (flat < best.value) take(corner, valve_.distance.eval(radius_of(corner), corner.z).value, cell, best);
    }
    return bound;
  }

  /// Inside, the depth is at most the distance to any element whose foot stays inside it.
  double dipping_bound(const Cell& cell, Vec3 c, double r, double rho) const {
    double bound = -kInfinity;
    for (int i = 0; i < valve_.distance.size(); ++i) {
      const ElementView v = valve_.distance.view(i, r, c.z);
      if (v.inside_by < rho) continue;
      // `side` bends by at most 1/radius in the half plane and |sr|/r about the axis, either way.
      const ProfileElement& e = valve_.distance.elements()[i];
      double modulus = 0;
      if (e.radius > 0) {
        const double from_centre = e.radius + (e.bulges ? v.side : -v.side);
        if (from_centre <= 2 * rho) continue;
        modulus += 1.0 / (from_centre - rho);
      }
      if (v.sr != 0) {
        if (r <= 2 * rho) continue;
        modulus += std::fabs(v.sr) / (r - rho);
      }
      // A convex function lies above its tangent plane; only its rise needs the modulus, and only a concave one its fall.
      const bool convex = v.sr >= 0 && (e.radius == 0 || e.bulges);
      const double bend = 0.5 * modulus * rho * rho;
      Vec3 corner;
      const Vec3 gradient = lift_gradient(c, r, v.sr, v.sw);
      const double low = v.side + slope(cell, c, gradient, corner) - (convex ? 0.0 : bend);
      const double high = v.side - slope(cell, c, -gradient, corner) + bend;
      bound = std::max(bound, std::min(low, -high));
    }
    return bound;
  }

  const ValveShape& valve_;
};

}  // namespace

Found closest(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve,
              double start) {
  Closest problem(valve);
  return least(target, faces, frame, problem, kSearch, start);
}

}  // namespace eyebrow::gap
