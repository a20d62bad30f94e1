#include "dish.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "outline.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

/// All places as far from a side as they are deep, as (r, w, depth): on a plane, or on a cone about (centre, 0).
struct Side {
  Vec3 normal;  ///< of the plane normal . x = offset; zero: a cone
  double offset = 0;
  Point2 centre;
  double radius = 0, sign = 0;  ///< |p - centre| = radius + sign depth
  bool hollow = false;          ///< the dish's
};

bool is_cone(const Side& side) {
  return side.sign != 0;
}

/// Two cones differ by a plane.
void subtract(Side& cone, const Side& other) {
  const Point2 a = cone.centre, b = other.centre;
  cone.normal = {-2 * (a.r - b.r), -2 * (a.w - b.w), -2 * (cone.sign * cone.radius - other.sign * other.radius)};
  cone.offset =
      cone.radius * cone.radius - other.radius * other.radius - (a.r * a.r + a.w * a.w) + (b.r * b.r + b.w * b.w);
  cone.sign = 0;
}

/// Calls `found` with each place (r, w, depth) that belongs to all three: two planes meet in a line, which the third
/// side cuts.
template <class Take>
void meet(std::array<Side, 3> sides, const Take& found) {
  std::ranges::stable_partition(sides, [](const Side& side) { return !is_cone(side); });
  for (std::size_t i = 0; i < 2; ++i)
    if (is_cone(sides[i])) subtract(sides[i], sides[2]);
  const Vec3 a = sides[0].normal, b = sides[1].normal, along = cross(a, b);
  const double square = dot(along, along);
  if (square < 1e-18) return;
  const Vec3 from = (1 / square) * (sides[0].offset * cross(b, along) + sides[1].offset * cross(along, a));
  const Side& last = sides[2];
  if (!is_cone(last)) {
    const double share = dot(last.normal, along);
    if (std::fabs(share) > 1e-12) found(from + ((last.offset - dot(last.normal, from)) / share) * along);
    return;
  }
  const double ur = from.x - last.centre.r, uw = from.y - last.centre.w, k = last.radius + last.sign * from.z;
  const double A = along.x * along.x + along.y * along.y - along.z * along.z;
  const double B = ur * along.x + uw * along.y - k * last.sign * along.z, C = ur * ur + uw * uw - k * k;
  const double root = B * B - A * C;
  if (root < 0) return;
  // Both roots without taking the difference of two that are nearly the same; A may be nothing.
  const double q = -(B + std::copysign(std::sqrt(root), B));
  if (A != 0) found(from + (q / A) * along);
  if (q != 0) found(from + (C / q) * along);
}

std::vector<Point2> deepest_places(const ConvexOutline& head, const Dish& dish, const std::vector<Side>& sides) {
  constexpr double kSame = 1e-7;  // mm
  std::vector<Point2> places;
  const auto take = [&](Vec3 x) {
    if (!(x.z > kSame && x.x > 0)) return;
    double dr = 0, dw = 0;
    const double filled = -head.eval(x.x, x.y, dr, dw), beside = dish.distance(x.x, x.y);
    if (std::fabs(std::min(filled, beside) - x.z) < kSame) places.push_back({x.x, x.y});
  };
  for (std::size_t i = 0; i < sides.size(); ++i)
    for (std::size_t k = i + 1; k < sides.size(); ++k)
      for (std::size_t m = k + 1; m < sides.size(); ++m)
        if (sides[i].hollow + sides[k].hollow + sides[m].hollow < 2) meet({sides[i], sides[k], sides[m]}, take);
  return places;
}

}  // namespace

std::optional<Dish> Dish::of(const Profile& profile, const ConvexOutline& head) {
  const ProfileElement& face = profile.elements.front();
  if (!(face.radius > 0) || face.bulges) return std::nullopt;
  return Dish(face, head);
}

Dish::Dish(const ProfileElement& arc, const ConvexOutline& head)
    : lip_(arc.to),
      outward_{arc.to.r / arc.radius, (arc.to.w - arc.centre.w) / arc.radius},
      centre_(arc.centre.w),
      radius_(arc.radius) {
  std::vector<Side> sides;
  for (const ConvexOutline::Line& e : head.lines())
    sides.push_back({{e.tw, -e.tr, 1}, e.tw * e.r - e.tr * e.w, {}, 0, 0, false});
  for (const ConvexOutline::Round& e : head.rounds()) sides.push_back({{}, 0, e.centre, e.radius, -1, false});
  sides.push_back({{}, 0, arc.centre, radius_, 1, true});
  sides.push_back({{}, 0, lip_, 0, 1, true});
  deepest_ = deepest_places(head, *this, sides);
}

double Dish::eval(double r, double w, double& dr, double& dw) const {
  const double y = w - centre_, far = diagonal(r, y), under = lip_.w - w;
  const bool before = outward_.r * y >= outward_.w * r;  // the line through centre and lip
  dr = 0;
  dw = -1;
  if (under > 0 && r <= lip_.r) return under;
  if (before) {
    if (under > far - radius_) return under;
    dr = far > 0 ? r / far : 0;
    dw = far > 0 ? y / far : 1;
    return far - radius_;
  }
  const double x = r - lip_.r, distance = diagonal(x, under);
  dr = distance > 0 ? x / distance : outward_.r;
  dw = distance > 0 ? -under / distance : outward_.w;
  return distance;
}

Beside Dish::beside(double r, double w, double aside) const {
  Beside result;
  const double y = w - centre_, far = diagonal(r, y);
  // The distance from the nearest point, or from the ball's centre, bounds that of the places around:
  // sqrt(a^2 + 2 a n.x + x^2) is no more than a + n.x + x^2 / (2 a).
  double from = far;
  if (far > 0 && outward_.r * y - outward_.w * r >= aside) {  // before the line through centre and lip
    result.value = radius_ - far;
    result.slope = {0, 0, -y / far};
    result.slope_r = -r / far;
  } else {
    double dr = 0, dw = 0;
    from = eval(r, w, dr, dw);
    result.value = -from;
    if (from <= 0) return result;
    result.slope = {0, 0, -dw};
    result.slope_r = -std::max(dr, 0.0);
  }
  result.bend = 1 / (2 * from);
  result.error = result.bend * aside * aside;
  result.known = true;
  return result;
}

Beside Dish::way(Vec3 q, Vec3 n, double spread) const {
  Beside result;
  const Vec3 at_lid = q + ((lip_.w - q.z) / n.z) * n, off = q - Vec3{0, 0, centre_};
  const double r = radius_of(at_lid), along = dot(n, off);
  if (r > lip_.r) {
    result.value = -INFINITY;
    return result;
  }
  // Minus what is ahead of q already, and half the ball's chord: the way is concave.
  const Vec3 aside = off - along * n;
  const double square = dot(aside, aside), half = std::sqrt(std::max(0.0, radius_ * radius_ - square));
  result.value = half - along;
  const double far = std::sqrt(square) + spread, least = radius_ * radius_ - far * far;
  if (r + spread / n.z > lip_.r || !(least > 0)) return result;
  result.slope = (-1 / half) * aside - n;
  result.error = 0.5 * radius_ * radius_ / (least * std::sqrt(least)) * spread * spread;
  result.known = true;
  return result;
}

Beside Dish::below(double r, double w, double aside) const {
  Beside result;
  const double y = w - centre_, far = diagonal(r, y), before = outward_.r * y - outward_.w * r;
  if (r > lip_.r) {
    result.value = -INFINITY;
    return result;
  }
  if (before >= 0) {
    // Nowhere is the distance less than that from the ball, and of that the linear bound as in `beside`.
    result.value = -(far - radius_);
    result.slope = {0, 0, -y / far};
    result.slope_r = -r / far;
    result.bend = 1 / (2 * far);
  } else {
    // From the lip: convex in the half plane, but for places before the line through centre and lip, where it bends as
    // much as that from the ball.
    const double x = lip_.r - r, under = lip_.w - w, distance = diagonal(x, under);
    if (!(distance > 0)) return result;
    result.value = distance;
    result.slope = {0, 0, -under / distance};
    result.slope_r = -x / distance;
    if (-before < aside) {
      if (far < 2 * aside) return result;
      result.bend = 1 / (2 * (far - aside));
    }
  }
  result.error = result.bend * aside * aside;
  result.known = r + aside <= lip_.r;
  return result;
}

}  // namespace eyebrow::gap
