#include "profile_distance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "eyebrow/fault.hpp"

namespace eyebrow::gap {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

ElementView view_segment(const ProfileElement& e, double r, double w) {
  const double er = e.to.r - e.from.r, ew = e.to.w - e.from.w;
  const double length = std::hypot(er, ew);
  const double tr = er / length, tw = ew / length;
  const double xr = r - e.from.r, xw = w - e.from.w;
  const double along = tr * xr + tw * xw;
  // The metal is on the left of the walk, so the right-hand normal points out of it.
  const double nr = tw, nw = -tr;
  const double side = nr * xr + nw * xw;
  ElementView v{};
  v.side = side;
  v.sr = nr;
  v.sw = nw;
  v.inside_by = std::min(along, length - along);
  const double t = std::clamp(along, 0.0, length);
  const double qr = xr - t * tr, qw = xw - t * tw;
  v.distance = std::hypot(qr, qw);
  if (v.distance > 0) {
    v.dr = qr / v.distance;
    v.dw = qw / v.distance;
  } else {
    v.dr = nr;
    v.dw = nw;
  }
  return v;
}

ElementView view_arc(const ProfileElement& e, double r, double w) {
  const double xr = r - e.centre.r, xw = w - e.centre.w;
  const double rho = std::hypot(xr, xw);
  ElementView v{};
  const double sign = e.bulges ? 1.0 : -1.0;
  const double ur = rho > 0 ? xr / rho : 0, uw = rho > 0 ? xw / rho : -1;
  v.side = sign * (rho - e.radius);
  v.sr = sign * ur;
  v.sw = sign * uw;
  // Foot inside the arc: left of the ray to `from` and right of the ray to `to` (a bulging arc turns left).
  const double fr = (e.from.r - e.centre.r) / e.radius, fw = (e.from.w - e.centre.w) / e.radius;
  const double gr = (e.to.r - e.centre.r) / e.radius, gw = (e.to.w - e.centre.w) / e.radius;
  const double after = sign * (fr * xw - fw * xr);
  const double before = sign * (xr * gw - xw * gr);
  v.inside_by = std::min(after, before);
  // An arc is shorter than half a circle, so a point on the far side of the centre has its foot outside.
  if (fr * xr + fw * xw < 0 && gr * xr + gw * xw < 0) v.inside_by = std::min(v.inside_by, -rho);
  if (v.inside_by >= 0) {
    v.distance = std::fabs(rho - e.radius);
    const double s = rho >= e.radius ? 1.0 : -1.0;
    v.dr = s * ur;
    v.dw = s * uw;
    v.bend = rho < e.radius ? 1.0 / std::max(rho, 1e-3) : 0.0;
    return v;
  }
  const double a = std::hypot(r - e.from.r, w - e.from.w), b = std::hypot(r - e.to.r, w - e.to.w);
  const Point2& end = a <= b ? e.from : e.to;
  v.distance = std::min(a, b);
  v.dr = v.distance > 0 ? (r - end.r) / v.distance : v.sr;
  v.dw = v.distance > 0 ? (w - end.w) / v.distance : v.sw;
  // Near the arc's end the carried-on circle may be nearer than the end: its hollowness bounds both.
  v.bend = e.bulges ? 0.0 : 1.0 / std::max(rho, 1e-3);
  return v;
}

double on_arc(const ProfileElement& e, double r, bool lower_half) {
  const double x = r - e.centre.r;
  const double h = std::sqrt(std::max(0.0, e.radius * e.radius - x * x));
  return lower_half ? e.centre.w - h : e.centre.w + h;
}

double w_at(const ProfileElement& e, double r) {
  if (e.radius > 0) return on_arc(e, r, e.bulges);
  const double span = e.to.r - e.from.r;
  if (span == 0) return e.to.w;
  return e.from.w + (r - e.from.r) / span * (e.to.w - e.from.w);
}

}  // namespace

ProfileDistance::ProfileDistance(const Profile& profile) : elements_(profile.elements), rim_radius_(profile.rim_radius) {
  if (elements_.empty() || size() > kMaxElements) throw Error("a valve outline has too many elements");
  while (first_upper_ < size() && elements_[first_upper_].part <= ValvePart::margin) ++first_upper_;
}

ElementView ProfileDistance::view(int element, double r, double w) const {
  const ProfileElement& e = elements_[element];
  return e.radius > 0 ? view_arc(e, r, w) : view_segment(e, r, w);
}

SignedDistance ProfileDistance::eval(double r, double w) const {
  SignedDistance best;
  best.value = kInfinity;
  for (int i = 0; i < size(); ++i) {
    const ElementView v = view(i, r, w);
    if (v.distance < best.value) best = {v.distance, v.dr, v.dw, i};
  }
  if (inside(r, w)) {
    best.value = -best.value;
    // At the surface itself the distance has no gradient; `view` gives the outward normal there.
    if (best.value < 0) {
      best.dr = -best.dr;
      best.dw = -best.dw;
    }
  }
  return best;
}

double ProfileDistance::lowest(double r) const {
  for (int i = 0; i < first_upper_; ++i) {
    const ProfileElement& e = elements_[i];
    if (e.part == ValvePart::margin) continue;
    if (r <= e.to.r) return w_at(e, r);
  }
  for (int i = first_upper_ - 1; i >= 0; --i)
    if (elements_[i].part != ValvePart::margin) return elements_[i].to.w;
  return 0;
}

double ProfileDistance::highest(double r) const {
  for (int i = first_upper_; i < size(); ++i) {
    const ProfileElement& e = elements_[i];
    if (e.from.r > e.to.r && r >= e.to.r && r <= e.from.r) return w_at(e, r);
  }
  return elements_[first_upper_].from.w;
}

bool ProfileDistance::inside(double r, double w) const {
  return r <= rim_radius_ && w >= lowest(r) && w <= highest(r);
}

}  // namespace eyebrow::gap
