#include "ray.hpp"

#include <cmath>

#include "tolerances.hpp"

namespace eyebrow::gap {
namespace {

struct Roots {
  double at[2];
  int count = 0;
};

Roots quadratic(double a, double half_b, double c) {
  Roots roots;
  if (std::fabs(a) < 1e-14) {
    if (half_b != 0) roots.at[roots.count++] = -c / (2 * half_b);
    return roots;
  }
  const double d = half_b * half_b - a * c;
  if (d < 0) return roots;
  // Without cancellation: the larger root in size first, the other from the product.
  const double q = -(half_b + std::copysign(std::sqrt(d), half_b));
  roots.at[roots.count++] = q / a;
  if (q != 0) roots.at[roots.count++] = c / q;
  return roots;
}

/// Roots of the ray with one element moved out by `grow`, its ends carried on by as much.
Roots meet(const ProfileElement& e, const Straight& line, Vec3 p, Vec3 n, double grow) {
  Roots kept;
  const auto keep_if = [&](double s, auto&& inside) {
    const Vec3 q = p + s * n;
    if (inside(radius_of(q), q.z)) kept.at[kept.count++] = s;
  };
  if (e.radius > 0) {
    const double radius = e.radius + (e.bulges ? grow : -grow);
    if (radius <= 0) return kept;
    const Vec3 d = p - Vec3{0, 0, e.centre.w};
    const Roots roots = quadratic(1, dot(d, n), dot(d, d) - radius * radius);
    const double fr = e.from.r - e.centre.r, fw = e.from.w - e.centre.w;
    const double gr = e.to.r - e.centre.r, gw = e.to.w - e.centre.w;
    const double sign = e.bulges ? 1.0 : -1.0, slack = (1e-12 + 2 * grow) * e.radius;
    for (int i = 0; i < roots.count; ++i)
      keep_if(roots.at[i], [&](double r, double w) {
        const double xr = r - e.centre.r, xw = w - e.centre.w;
        return sign * (fr * xw - fw * xr) >= -slack && sign * (xr * gw - xw * gr) >= -slack && fr * xr + fw * xw > 0;
      });
    return kept;
  }
  const double nr = line.tw, nw = -line.tr;
  const Point2 from{e.from.r + grow * nr, e.from.w + grow * nw};
  const auto within = [&](double r, double w) {
    const double along = line.tr * (r - from.r) + line.tw * (w - from.w);
    return along >= -grow - 1e-12 && along <= line.length + grow + 1e-12;
  };
  if (std::fabs(line.tw) < 1e-12) {
    if (n.z != 0) keep_if((from.w - p.z) / n.z, within);
    return kept;
  }
  const double slope = line.tr / line.tw;  // r = from.r + slope (w - from.w)
  const double at_start = from.r + slope * (p.z - from.w), step = slope * n.z;
  const Roots roots = quadratic(n.x * n.x + n.y * n.y - step * step, p.x * n.x + p.y * n.y - at_start * step,
                                p.x * p.x + p.y * p.y - at_start * at_start);
  for (int i = 0; i < roots.count; ++i) {
    if (at_start + roots.at[i] * step < 0) continue;  // the cone's other half
    keep_if(roots.at[i], within);
  }
  return kept;
}

/// An element as straight rays see it: a rim edge's arc gives way to the sharp corner that it was cut from.
struct Sharpened {
  ProfileElement element;
  Straight line;
};

bool rounded(const ProfileDistance& valve) {
  for (const ProfileElement& e : valve.elements())
    if (e.part == ValvePart::rim_edge) return true;
  return false;
}

Sharpened sharpened(const ProfileDistance& valve, int i) {
  const auto& elements = valve.elements();
  Sharpened s{elements[i], valve.straight(i)};
  if (s.element.part == ValvePart::rim_edge) {
    s.element.to = {valve.rim_radius(), s.element.from.w};
    s.element.radius = 0;
    s.line = {1, 0, s.element.to.r - s.element.from.r, 0};
  } else if (i > 0 && elements[i - 1].part == ValvePart::rim_edge) {
    s.line.length += s.element.from.w - elements[i - 1].from.w;
    s.element.from.w = elements[i - 1].from.w;
  }
  return s;
}

/// Is the point nearer than `spread` to what sharpening adds? Then a ray may start past the sharp corner's sides.
bool in_corner(const ProfileDistance& valve, Vec3 p, double spread) {
  for (const ProfileElement& e : valve.elements())
    if (e.part == ValvePart::rim_edge) {
      const double r = radius_of(p);
      return r >= e.from.r - spread && r <= e.to.r + spread && p.z >= e.from.w - spread && p.z <= e.to.w + spread;
    }
  return false;
}

/// On along the ray from p + s n to the valve grown by `spread`, no step longer than the way to it or to a plane that
/// it lies behind. At grazing incidence the steps shrink: not met, and `at` is where they ran out.
Meeting approach(const ProfileDistance& valve, Vec3 p, Vec3 n, double s, double spread) {
  const double far = norm(p) + 2 * norm(Vec3{valve.rim_radius(), 0, valve.elements().back().to.w});
  SignedDistance d;
  for (int i = 0; i < kMarch; ++i) {
    const Vec3 q = p + s * n;
    const double r = radius_of(q);
    d = valve.eval(r, q.z);
    const double gap = d.value - spread;
    if (gap <= kTouch) return {true, s, d.element};
    const bool plane = valve.supporting(d.element) && valve.view(d.element, r, q.z).inside_by >= 0;
    const double facing = plane ? -dot(lift_gradient(q, r, d.dr, d.dw), n) : 1;
    if (facing <= 0 || s > far) return {};
    s += gap / facing;
  }
  return {false, s, d.element};
}

}  // namespace

Meeting first_meeting(const ProfileDistance& valve, Vec3 p, Vec3 n) {
  const bool inside = valve.inside(radius_of(p), p.z);
  Meeting best;
  if (inside) best.at = -kInfinity;
  for (int i = 0; i < valve.size(); ++i) {
    const Sharpened s = sharpened(valve, i);
    const Roots roots = meet(s.element, s.line, p, n, 0);
    for (int k = 0; k < roots.count; ++k) {
      const double at = roots.at[k];
      if (inside ? at <= 0 && at > best.at : at >= 0 && at < best.at) best = {true, at, i};
    }
  }
  if (!inside && in_corner(valve, p, 0)) best = {true, 0, -1};
  // The corner stands before the arc (behind a ray that starts inside, too): go on from it.
  return best.met && rounded(valve) ? approach(valve, p, n, best.at, 0) : best;
}

double earliest_meeting(const ValveShape& valve, Vec3 p, Vec3 n, double spread, bool behind) {
  const ProfileDistance& outline = valve.distance;
  if (!behind && outline.eval(radius_of(p), p.z).value <= spread) return 0;
  // No part of the valve stands out of the filled outline with its corners sharp and its elements carried on; a ray
  // that starts in what that adds (a corner's reach is 2.24 times the spread) is followed from its start.
  const bool within =
      !behind && (in_corner(valve.filled, p, spread) || valve.filled.eval(radius_of(p), p.z).value <= 2.5 * spread);
  double s = within ? 0 : kInfinity;
  for (int i = 0; i < valve.filled.size() && !within; ++i) {
    const Sharpened e = sharpened(valve.filled, i);
    const Roots roots = meet(e.element, e.line, p, n, spread);
    for (int k = 0; k < roots.count; ++k)
      if (behind || roots.at[k] >= 0) s = std::min(s, roots.at[k]);
  }
  if (s == kInfinity || (!within && &valve.filled == &outline && !rounded(outline))) return s;
  s = approach(outline, p, n, s, spread).at;
  return behind ? std::min(s, 0.0) : s;  // where it starts, it is in the tube
}

}  // namespace eyebrow::gap
