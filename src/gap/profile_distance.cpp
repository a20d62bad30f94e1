#include "profile_distance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "eyebrow/fault.hpp"
#include "outline.hpp"

namespace eyebrow::gap {
namespace {

constexpr double kNoBound = std::numeric_limits<double>::infinity();

ElementView view_segment(const ProfileElement& e, const Straight& line, double r, double w) {
  const double xr = r - e.from.r, xw = w - e.from.w;
  const double along = line.tr * xr + line.tw * xw;
  // The metal is on the left of the walk, so the right-hand normal points out of it.
  const double nr = line.tw, nw = -line.tr;
  ElementView v{};
  v.side = nr * xr + nw * xw;
  v.sr = nr;
  v.sw = nw;
  v.from_by = along;
  v.to_by = line.length - along;
  v.inside_by = std::min(v.from_by, v.to_by);
  if (v.inside_by >= 0) {
    v.distance = std::fabs(v.side);
    const double sign = v.side < 0 ? -1.0 : 1.0;
    v.dr = sign * nr;
    v.dw = sign * nw;
    return v;
  }
  const Point2& end = along < 0 ? e.from : e.to;
  const double qr = r - end.r, qw = w - end.w;
  v.distance = std::sqrt(qr * qr + qw * qw);
  v.dr = v.distance > 0 ? qr / v.distance : nr;
  v.dw = v.distance > 0 ? qw / v.distance : nw;
  return v;
}

ElementView view_arc(const ProfileElement& e, double r, double w) {
  const double xr = r - e.centre.r, xw = w - e.centre.w;
  const double rho = std::sqrt(xr * xr + xw * xw);
  ElementView v{};
  const double sign = e.bulges ? 1.0 : -1.0;
  const double ur = rho > 0 ? xr / rho : 0, uw = rho > 0 ? xw / rho : -1;
  v.side = sign * (rho - e.radius);
  v.sr = sign * ur;
  v.sw = sign * uw;
  // Foot inside the arc: left of the ray to `from` and right of the ray to `to` (a bulging arc turns left).
  const double fr = (e.from.r - e.centre.r) / e.radius, fw = (e.from.w - e.centre.w) / e.radius;
  const double gr = (e.to.r - e.centre.r) / e.radius, gw = (e.to.w - e.centre.w) / e.radius;
  v.from_by = sign * (fr * xw - fw * xr);
  v.to_by = sign * (xr * gw - xw * gr);
  // An arc is shorter than half a circle, so a point on the far side of the centre has its foot outside.
  if (fr * xr + fw * xw < 0 && gr * xr + gw * xw < 0) v.from_by = v.to_by = -rho;
  v.inside_by = std::min(v.from_by, v.to_by);
  if (v.inside_by >= 0) {
    v.distance = std::fabs(rho - e.radius);
    const double s = rho >= e.radius ? 1.0 : -1.0;
    v.dr = s * ur;
    v.dw = s * uw;
    v.bend = rho < e.radius ? 1.0 / std::max(rho, 1e-3) : 0.0;
    return v;
  }
  const double a = (r - e.from.r) * (r - e.from.r) + (w - e.from.w) * (w - e.from.w);
  const double b = (r - e.to.r) * (r - e.to.r) + (w - e.to.w) * (w - e.to.w);
  const Point2& end = a <= b ? e.from : e.to;
  v.distance = std::sqrt(std::min(a, b));
  v.dr = v.distance > 0 ? (r - end.r) / v.distance : v.sr;
  v.dw = v.distance > 0 ? (w - end.w) / v.distance : v.sw;
  // Near the arc's end the carried-on circle may be nearer than the end: its hollowness bounds both.
  v.bend = e.bulges ? 0.0 : 1.0 / std::max(rho, 1e-3);
  return v;
}

/// How far an arc stands off its chord.
double sagitta(const ProfileElement& e, double chord) {
  if (e.radius <= 0) return 0;
  return e.radius - std::sqrt(std::max(0.0, e.radius * e.radius - 0.25 * chord * chord));
}

/// Distance from a point to a box in the half plane.
double to_box(Point2 p, const Box2& box) {
  const double r = std::max({box.low.r - p.r, 0.0, p.r - box.high.r});
  const double w = std::max({box.low.w - p.w, 0.0, p.w - box.high.w});
  return std::sqrt(r * r + w * w);
}

/// Does the chord of an element pass through the box? (Slab test.)
bool crosses(const ProfileElement& e, const Box2& box) {
  double from = 0, to = 1;
  const double step[] = {e.to.r - e.from.r, e.to.w - e.from.w}, start[] = {e.from.r, e.from.w};
  const double low[] = {box.low.r, box.low.w}, high[] = {box.high.r, box.high.w};
  for (int k = 0; k < 2; ++k) {
    if (step[k] == 0) {
      if (start[k] < low[k] || start[k] > high[k]) return false;
      continue;
    }
    const double a = (low[k] - start[k]) / step[k], b = (high[k] - start[k]) / step[k];
    from = std::max(from, std::min(a, b));
    to = std::min(to, std::max(a, b));
  }
  return from <= to;
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

/// dw / dr along an element of the lower side.
double slope_at(const ProfileElement& e, double r) {
  if (e.radius <= 0) return (e.to.w - e.from.w) / (e.to.r - e.from.r);
  const double x = r - e.centre.r, h2 = e.radius * e.radius - x * x;
  const double slope = h2 > 0 ? x / std::sqrt(h2) : kNoBound;
  return e.bulges ? slope : -slope;
}

}  // namespace

ProfileDistance::ProfileDistance(const Profile& profile)
    : elements_(profile.elements), rim_radius_(profile.rim_radius) {
  if (elements_.empty() || size() > kMaxElements) throw Error("a valve outline has too many elements");
  for (const ProfileElement& e : elements_) {
    const double er = e.to.r - e.from.r, ew = e.to.w - e.from.w, length = std::hypot(er, ew);
    straight_.push_back({er / length, ew / length, length, sagitta(e, length)});
  }
  for (const ProfileElement& e : elements_) {
    if (e.part != ValvePart::face || e.radius <= 0 || e.bulges) continue;
    // Second derivative of the circle's height, largest at its end: rho^2 / (rho^2 - r^2)^(3/2).
    lowest_bend_ = e.radius * e.radius / std::pow(e.radius * e.radius - e.to.r * e.to.r, 1.5);
  }
  while (first_upper_ < size() && elements_[first_upper_].part <= ValvePart::margin) ++first_upper_;
  for (int i = 0; i + 1 < first_upper_; ++i) {
    // The slope falls from one element to the next: a dome's end on a rounded rim edge.
    const Point2 corner = elements_[i].to;
    if (corner.r < rim_radius_ && slope_at(elements_[i], corner.r) > slope_at(elements_[i + 1], corner.r) + 1e-9)
      lowest_bend_ = kNoBound;
  }
  for (int i = 0; i < size(); ++i) {
    supporting_.push_back(supports(i));
    joints_.push_back(i + 1 < size() ? joint(elements_[i], elements_[i + 1]) : Joint::smooth);
  }
}

ProfileDistance::Joint ProfileDistance::joint(const ProfileElement& before, const ProfileElement& after) {
  const Point2 a = direction_at(before, before.to), b = direction_at(after, after.from);
  const double left = a.r * b.w - a.w * b.r, on = a.r * b.r + a.w * b.w;
  if (left < -1e-9) return Joint::hollow;
  return on <= 1e-9 ? Joint::sharp : Joint::smooth;
}

bool ProfileDistance::supports(int element) const {
  const ProfileElement& e = elements_[element];
  if (e.radius > 0 && !e.bulges) return false;
  const Straight& line = straight_[element];
  for (const Point2& end : {e.from, e.to}) {
    const double nr = e.radius > 0 ? (end.r - e.centre.r) / e.radius : line.tw;
    const double nw = e.radius > 0 ? (end.w - e.centre.w) / e.radius : -line.tr;
    // The valve has both r and -r.
    const Point2 furthest = support(-std::fabs(nr), -nw);
    if (std::fabs(nr) * furthest.r + nw * furthest.w > nr * end.r + nw * end.w + 1e-9) return false;
  }
  return true;
}

ElementView ProfileDistance::view(int element, double r, double w) const {
  const ProfileElement& e = elements_[element];
  return e.radius > 0 ? view_arc(e, r, w) : view_segment(e, straight_[element], r, w);
}

SignedDistance ProfileDistance::eval(double r, double w) const {
  ElementView nearest{};
  nearest.distance = kNoBound;
  int element = -1;
  for (int i = 0; i < size(); ++i) {
    const ElementView v = view(i, r, w);
    if (v.distance < nearest.distance) {
      nearest = v;
      element = i;
    }
  }
  const double sign = inside(r, w) ? -1.0 : 1.0;
  // Where the foot is inside the element its normal is exact, however near the surface.
  if (nearest.inside_by >= 0) return {sign * nearest.distance, nearest.sr, nearest.sw, element};
  return {sign * nearest.distance, sign * nearest.dr, sign * nearest.dw, element};
}

Point2 ProfileDistance::support(double a, double b) const {
  Point2 best = elements_.front().from;
  double least = a * best.r + b * best.w;
  const auto take = [&](Point2 p) {
    const double value = a * p.r + b * p.w;
    if (value < least) {
      least = value;
      best = p;
    }
  };
  const double length = std::sqrt(a * a + b * b);
  for (int i = 0; i < size(); ++i) {
    const ProfileElement& e = elements_[i];
    take(e.to);
    if (e.radius <= 0 || !e.bulges || length == 0) continue;
    const Point2 p{e.centre.r - e.radius * a / length, e.centre.w - e.radius * b / length};
    if (view_arc(e, p.r, p.w).inside_by >= 0) take(p);
  }
  return best;
}

double ProfileDistance::box_bound(const Box2& box) const {
  // Of two convex figures that do not meet, one's corner is nearest to the other.
  const Point2 corners[] = {box.low, {box.high.r, box.low.w}, box.high, {box.low.r, box.high.w}};
  double least = kNoBound;
  for (int i = 0; i < size(); ++i) {
    const ProfileElement& e = elements_[i];
    const Straight& line = straight_[i];
    const double a = to_box(e.from, box), b = to_box(e.to, box);
    double near = std::min(a, b);
    if (near > 0) {
      bool left = false, right = false;
      for (const Point2& p : corners) {
        const double xr = p.r - e.from.r, xw = p.w - e.from.w;
        const double along = line.tr * xr + line.tw * xw, side = line.tw * xr - line.tr * xw;
        (side < 0 ? left : right) = true;
        if (along >= 0 && along <= line.length) near = std::min(near, std::fabs(side));
      }
      if (left && right && crosses(e, box)) near = 0;
    }
    least = std::min(least, near - line.sagitta);
  }
  // The outline is out of reach: the whole box lies inside or outside with its middle.
  const bool metal = inside(0.5 * (box.low.r + box.high.r), 0.5 * (box.low.w + box.high.w));
  return metal || least <= 0 ? -kNoBound : least;
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

double ProfileDistance::lowest_over(double from, double to) const {
  from = std::min(from, rim_radius_);
  to = std::min(to, rim_radius_);
  double least = std::min(lowest(from), lowest(to));
  // Each element rises or falls all along, so what is left is where two meet: a dish ends lowest.
  for (int i = 0; i < first_upper_; ++i)
    if (elements_[i].to.r > from && elements_[i].to.r < to) least = std::min(least, elements_[i].to.w);
  return least;
}

double ProfileDistance::lowest_slope(double r) const {
  for (int i = 0; i < first_upper_; ++i)
    if (elements_[i].part != ValvePart::margin && r <= elements_[i].to.r) return slope_at(elements_[i], r);
  return kNoBound;
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
