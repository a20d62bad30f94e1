#include "hollow_face.hpp"

#include <algorithm>
#include <cmath>

#include "least_between.hpp"
#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr std::size_t kAround = 32;  // places on a circle between which its distance is looked at
constexpr double kStep = 2 * kPi / kAround;
constexpr double kTurnEnd = 1e-8;  // radians: a maximum is found to the square of it
constexpr double kFlat = 1e-9;     // mm2 a radian: a slope that is none
constexpr int kMostSteps = 60;     // of looking for a maximum
constexpr int kInward = 256;       // places along a radius of the valve where the void is looked for
constexpr int kHalvings = 50;      // of the way to a crossing: beyond rounding

struct Places {
  std::array<double, kAround> cosine, sine;
  Places() {
    for (std::size_t i = 0; i < kAround; ++i) {
      cosine[i] = std::cos(kStep * static_cast<double>(i));
      sine[i] = std::sin(kStep * static_cast<double>(i));
    }
  }
};
const Places kPlaces;

}  // namespace

/// The circle from the face's axis.
struct HollowFace::Circle {
  const HollowFace& of;
  Vec3 middle;
  double r, dx, dy, rise;  ///< centre in the face's x, y and along its axis

  Circle(const HollowFace& face, double radius, Vec3 centre) : of(face), middle(centre), r(radius) {
    const Vec3 off = centre - face.origin_;
    dx = dot(off, face.x_);
    dy = dot(off, face.y_);
    rise = dot(off, face.axis_);
  }
  double x(double c) const { return dx + r * of.cosine_ * c; }
  double y(double s) const { return dy + r * s; }
  double height(double c) const { return rise - r * of.sine_ * c; }
  Vec3 point(double c, double s) const { return middle + (r * c) * of.ex_ + (r * s) * of.ey_; }

  /// How far from the axis, or from the middle of the tube.
  double depth(double c, double s) const {
    const double away = diagonal(x(c), y(s));
    return of.tube_ > 0 ? diagonal(away - of.radius_, height(c)) : away;
  }
  /// Half the derivative of the depth's square along the circle.
  double slope(double c, double s) const {
    const double turning = -r * of.cosine_ * s * x(c) + r * c * y(s);
    if (of.tube_ == 0) return turning;
    return (1 - of.radius_ / std::sqrt(x(c) * x(c) + y(s) * y(s))) * turning + height(c) * r * of.sine_ * s;
  }
  /// Where the depth stops rising between two turns: regula falsi, an end that stays put counting half (Illinois).
  double peak(double from, double at_from, double to, double at_to) const {
    double turn = to;
    int stayed = 0;  // > 0: `to` did, < 0: `from`
    for (int i = 0; i < kMostSteps && to - from > kTurnEnd && at_to != 0; ++i) {
      turn = from + (to - from) * at_from / (at_from - at_to);
      const double at = slope(std::cos(turn), std::sin(turn));
      if (std::fabs(at) < kFlat) break;
      if (at > 0) {
        from = turn;
        at_from = at;
        if (stayed > 0) at_to *= 0.5;
        stayed = 1;
      } else {
        to = turn;
        at_to = at;
        if (stayed < 0) at_from *= 0.5;
        stayed = -1;
      }
    }
    return turn;
  }
};

HollowFace::HollowFace(int number, const Face& face, Vec3 up)
    : number_(number),
      origin_(face.frame.origin),
      axis_(dot(face.frame.z, up) < 0 ? -face.frame.z : face.frame.z),
      up_(up),
      radius_(face.radius),
      tube_(face.kind == Surface::torus ? face.radius2 : 0),
      cosine_(dot(axis_, up)) {
  const Vec3 aside = up - cosine_ * axis_;
  sine_ = norm(aside);
  x_ = sine_ > kUpright ? unit(aside) : frame_about({}, axis_).x;
  y_ = cross(axis_, x_);
  ex_ = unit(x_ - dot(x_, up) * up);
  ey_ = y_;
}

double HollowFace::depth_at(Vec3 point) const {
  const Vec3 off = point - origin_;
  const double height = dot(off, axis_), away = norm(off - height * axis_);
  return tube_ > 0 ? diagonal(away - radius_, height) : away;
}

HollowFace::Nears HollowFace::nears(const OutlineCircle& outline, Vec3 middle, double enough) const {
  Nears nears;
  const Circle circle(*this, outline.r, middle);
  const double far = diagonal(circle.dx, circle.dy), most = far + outline.r;
  // Nearest to a corner is only what lies outward of the tube's middle and below it.
  const double deepest =
      tube_ > 0 ? diagonal(std::max(0.0, most - radius_), std::max(0.0, outline.r * sine_ - circle.rise)) : most;
  if (size() - deepest - outline.offset >= enough) return nears;
  if (sine_ < kUpright) {
    add(nears, circle, outline, far > 1e-12 ? std::atan2(circle.dy, circle.dx) : 0, enough);
    return nears;
  }
  std::array<double, kAround> slope;
  for (std::size_t i = 0; i < kAround; ++i) slope[i] = circle.slope(kPlaces.cosine[i], kPlaces.sine[i]);
  for (std::size_t i = 0; i < kAround; ++i) {
    const double here = slope[i], next = slope[(i + 1) % kAround];
    if (!(here > 0 && next <= 0)) continue;
    // The depth is at least that along the normal of its maximum, which bends by no more than r: here it lacks at most
    // r step^2 / 2.
    if (size() - circle.depth(kPlaces.cosine[i], kPlaces.sine[i]) - outline.offset - outline.r * kStep * kStep >=
        enough)
      continue;
    const double turn = kStep * static_cast<double>(i);
    add(nears, circle, outline, circle.peak(turn, here, turn + kStep, next), enough);
  }
  return nears;
}

void HollowFace::add(Nears& nears, const Circle& circle, const OutlineCircle& outline, double turn,
                     double enough) const {
  const double c = std::cos(turn), s = std::sin(turn), x = circle.x(c), y = circle.y(s), away = diagonal(x, y);
  const Vec3 out = away > 0 ? (1 / away) * (x * x_ + y * y_) : x_, point = circle.point(c, s);
  Vec3 normal = out;
  double depth = away;
  if (tube_ > 0) {
    depth = circle.depth(c, s);
    if (depth <= 0) return;
    normal = (1 / depth) * ((away - radius_) * out + circle.height(c) * axis_);
  }
  const double gap = size() - depth - outline.offset;
  if (gap >= enough || nears.count == static_cast<int>(nears.at.size())) return;
  if (outline.offset > 0 && !outline.covers(dot(normal, c * ex_ + s * ey_), dot(normal, up_))) return;
  nears.at[static_cast<std::size_t>(nears.count++)] = {gap, point + (size() - depth) * normal, point};
}

/// How far a point of the circle goes down before it leaves the void (a corner's: the convex one that the corner and
/// its floor enclose). Infinite where it is never within, or leaves it through that floor.
double HollowFace::exit(const Circle& circle, double offset, double c, double s) const {
  const double x = circle.x(c), y = circle.y(s), end = size() - offset;
  if (tube_ == 0) {
    const double square = end * end - y * y;
    return square < 0 ? INFINITY : (x + std::sqrt(square)) / sine_;
  }
  // Newton's method from below, where it cannot go too far: the distance from a disc is convex.
  const double h = circle.height(c);
  double way = (h + 2 * tube_) / cosine_;
  for (int i = 0; i < kMostSteps; ++i) {
    const double px = x - way * sine_, height = h - way * cosine_, away = diagonal(px, y);
    const double aside = std::max(0.0, away - radius_), depth = diagonal(aside, height);
    const double slope = ((away > 0 ? aside * px / away : 0) * -sine_ - height * cosine_) / depth;
    if (depth - end <= kFlat) return aside > 0 ? way : INFINITY;
    if (slope <= 0) return INFINITY;
    way -= (depth - end) / slope;
  }
  return INFINITY;
}

HollowFace::Nears HollowFace::exits(const OutlineCircle& outline, Vec3 middle, double enough) const {
  Nears nears;
  const Circle circle(*this, outline.r, middle);
  if (tube_ == 0 && sine_ < kUpright) return nears;
  // Does any point get out before `enough`?
  const double gone = std::min(enough, 1e6), far = diagonal(circle.dx, circle.dy);
  const double most = far + outline.r + gone * sine_, lowest = circle.rise - outline.r * sine_ - gone * cosine_;
  const double deepest = tube_ > 0 ? diagonal(std::max(0.0, most - radius_), std::min(0.0, lowest)) : most;
  if (deepest < size() - outline.offset) return nears;
  const auto take = [&](double turn, double way) {
    if (way >= enough || nears.count == static_cast<int>(nears.at.size())) return;
    const double c = std::cos(turn), s = std::sin(turn);
    const Vec3 point = circle.point(c, s), at = point - way * up_, off = at - origin_;
    const double height = dot(off, axis_);
    const Vec3 aside = off - height * axis_;
    const double away = norm(aside);
    const Vec3 out = away > 0 ? (1 / away) * aside : x_;
    const Vec3 normal = tube_ > 0 ? unit((away - radius_) * out + height * axis_) : out;
    if (outline.offset > 0 && !outline.covers(dot(normal, c * ex_ + s * ey_), dot(normal, up_))) return;
    nears.at[static_cast<std::size_t>(nears.count++)] = {way, at + outline.offset * normal, point};
  };
  if (sine_ < kUpright) {
    const double turn = far > 1e-12 ? std::atan2(circle.dy, circle.dx) : 0;
    take(turn, exit(circle, outline.offset, std::cos(turn), std::sin(turn)));
    return nears;
  }
  std::array<double, kAround> ways;
  for (std::size_t i = 0; i < kAround; ++i) ways[i] = exit(circle, outline.offset, kPlaces.cosine[i], kPlaces.sine[i]);
  for (std::size_t i = 0; i < kAround; ++i) {
    const double here = ways[i], before = ways[(i + kAround - 1) % kAround], after = ways[(i + 1) % kAround];
    if (!(here < INFINITY && here <= before && here < after)) continue;
    const double turn = kStep * static_cast<double>(i);
    const auto [at, way] = least_between(
        turn - kStep, turn + kStep, [&](double t) { return exit(circle, outline.offset, std::cos(t), std::sin(t)); });
    way < here ? take(at, way) : take(turn, here);
  }
  return nears;
}

std::optional<Vec3> HollowFace::crossing(const OutlineCircle& outline, Vec3 middle, Vec3 beyond) const {
  Vec3 inside = middle;
  double least = INFINITY;
  const auto try_at = [&](Vec3 p) {
    if (const double at = depth_at(p); at < least) {
      least = at;
      inside = p;
    }
  };
  if (tube_ > 0) {  // only straight inward: across the disc waits the tube's far side
    for (int i = 1; i <= kInward && least >= size(); ++i)
      try_at(beyond + (static_cast<double>(i) / kInward) * (middle - beyond));
  } else {
    try_at(middle);
    const Circle circle(*this, outline.r, middle);
    for (std::size_t i = 0; i < kAround; ++i) try_at(circle.point(kPlaces.cosine[i], kPlaces.sine[i]));
  }
  if (least >= size()) return std::nullopt;
  double in = 0, out = 1;
  for (int i = 0; i < kHalvings; ++i) {
    const double half = 0.5 * (in + out);
    (depth_at(inside + half * (beyond - inside)) < size() ? in : out) = half;
  }
  return inside + in * (beyond - inside);
}

}  // namespace eyebrow::gap
