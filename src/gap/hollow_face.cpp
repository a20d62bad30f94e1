#include "hollow_face.hpp"

#include <algorithm>
#include <cmath>

#include "crossings.hpp"
#include "least_between.hpp"
#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr std::size_t kAround = 32;  // places on a circle between which its distance is looked at
constexpr double kStep = 2 * kPi / kAround;
constexpr double kTurnEnd = 1e-8;  // radians: a maximum is found to the square of it
constexpr double kFlat = 1e-9;     // mm2 a radian: a slope that is none
constexpr double kHidden = 1e-7;   // of the size: maxima and minima this close to each other in depth count as none
constexpr double kPast = 1e-6;     // mm: what is no further past a tube's middle lies on its floor
constexpr int kMostSteps = 60;     // of Newton's method
constexpr int kWithin = 24;        // steps of a stretch that leaves through a corner
constexpr int kEnds = 10;          // halvings of a step to where a stretch ends: what is beyond does not count anyway
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
  /// No second derivative of half the square of how far from the axis is greater, and none of its slope.
  double bend() const { return r * diagonal(dx, dy) + 2 * r * r * of.sine_ * of.sine_; }
  /// The same of the slope's second derivative, on a stretch past a tube's middle.
  double bend(const Stretch& on) const {
    if (of.tube_ == 0) return bend();
    const double far = diagonal(dx, dy), ring = of.radius_, tip = r * of.sine_, width = on.to - on.from;
    // Of how far from the axis, the first three derivatives: by its square's, or as a distance from a point that moves
    // round at the speed r. The first is none where that is furthest.
    const double quick = r / ring;
    double first = std::min(bend() / ring, r);
    const double second = std::min((bend() + first * first) / ring, r * (1 + quick)),
                 third = std::min((bend() + 3 * first * second) / ring, r * (1 + quick * (3 + 1.2 * quick)));
    double past = std::max(0.0, far + r - ring);
    if (!on.whole) {
      first = std::min(first, second * width);
      past = std::min(past, first * width);
    }
    return 3 * first * second + past * third + tip * (3 * tip + std::fabs(rise) + tip);
  }
  Stretches past_middle() const;
};

/// Of a corner only what lies outward of the tube's middle can be met: elsewhere its floor is nearer. Such a stretch
/// may be far shorter than the circle's steps.
HollowFace::Stretches HollowFace::Circle::past_middle() const {
  Stretches stretches;
  const auto past_at = [&](double c, double s) { return x(c) * x(c) + y(s) * y(s) - of.radius_ * of.radius_; };
  const auto past = [&](double turn) { return past_at(std::cos(turn), std::sin(turn)); };
  std::array<double, 4> ends{};  // two waves pass a value four times at most
  std::size_t count = 0;
  const double first = past_at(1, 0);
  double here = first;
  for (std::size_t i = 0; i < kAround; ++i) {
    const std::size_t k = (i + 1) % kAround;
    const double turn = kStep * static_cast<double>(i), next = past_at(kPlaces.cosine[k], kPlaces.sine[k]);
    crossings(past, turn, here, turn + kStep, next, 2 * bend(), kPast * of.radius_,
              [&](double from, double at_from, double to, double at_to) {
                if (count < ends.size())
                  ends[count++] = zero_between(past, from, at_from, to, at_to, kTurnEnd, kPast * of.radius_);
              });
    here = next;
  }
  if (count == 0 && first > 0) stretches.at[stretches.count++] = {0, 2 * kPi, true};
  const std::size_t leaves = first > 0 ? 0 : 1;  // the first end that one leaves a stretch at
  for (std::size_t k = leaves; k < count; k += 2)
    stretches.at[stretches.count++] = {k > 0 ? ends[k - 1] : ends[count - 1] - 2 * kPi, ends[k], false};
  return stretches;
}

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
  if ((tube_ > 0 && (most < radius_ || circle.rise > outline.r * sine_)) || size() - deepest - outline.offset >= enough)
    return nears;
  if (sine_ < kUpright) {
    add(nears, circle, outline, far > 1e-12 ? std::atan2(circle.dy, circle.dx) : 0, enough);
    return nears;
  }
  const auto slope = [&](double turn) { return circle.slope(std::cos(turn), std::sin(turn)); };
  // The depth is at least that along the normal of its maximum, which bends by no more than r: either end of a step
  // about it lacks at most half of r times the step's square. So much may both ends lack and still be of interest.
  const auto too_far = [&](double depth, double step) {
    return size() - depth - outline.offset - outline.r * step * step >= enough;
  };
  const Stretches stretches = tube_ > 0 ? circle.past_middle() : Stretches{{{{0, 2 * kPi, true}}}, 1};
  for (std::size_t k = 0; k < stretches.count; ++k) {
    const Stretch& on = stretches.at[k];
    const auto pieces = static_cast<std::size_t>(std::ceil((on.to - on.from) / kStep - 1e-9));
    const double step = (on.to - on.from) / static_cast<double>(pieces), bend = circle.bend(on);
    struct Place {
      double depth, slope;
    };
    const auto place_at = [&](std::size_t i) {
      if (on.whole) {
        const double c = kPlaces.cosine[i % kAround], s = kPlaces.sine[i % kAround];
        return Place{circle.depth(c, s), circle.slope(c, s)};
      }
      const double turn = on.from + step * static_cast<double>(i), c = std::cos(turn), s = std::sin(turn);
      return Place{circle.depth(c, s), circle.slope(c, s)};
    };
    Place here = place_at(0);
    for (std::size_t i = 0; i < pieces; ++i) {
      const double turn = on.from + step * static_cast<double>(i);
      const Place next = place_at(i + 1);
      if (!too_far(std::max(here.depth, next.depth), step))
        crossings(slope, turn, here.slope, turn + step, next.slope, bend, kHidden * size(),
                  [&](double a, double at_a, double b, double at_b) {
                    if (at_a > 0 && !too_far(circle.depth(std::cos(a), std::sin(a)), b - a))
                      add(nears, circle, outline, zero_between(slope, a, at_a, b, at_b, kTurnEnd, kFlat), enough);
                  });
      here = next;
    }
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

/// How a point of the circle goes down until it leaves the void (a corner's: the convex one that the corner and its
/// floor enclose). No way where it is never within.
HollowFace::Exit HollowFace::exit(const Circle& circle, double offset, double c, double s) const {
  const double x = circle.x(c), y = circle.y(s), end = size() - offset;
  if (tube_ == 0) {
    const double square = end * end - y * y;
    return {square < 0 ? INFINITY : (x + std::sqrt(square)) / sine_, 0};
  }
  // Newton's method from below, where it cannot go too far: the distance from a disc is convex.
  const double h = circle.height(c);
  double way = (h + 2 * tube_) / cosine_;
  for (int i = 0; i < kMostSteps; ++i) {
    const double px = x - way * sine_, height = h - way * cosine_, away = diagonal(px, y);
    const double aside = std::max(0.0, away - radius_), depth = diagonal(aside, height);
    const double slope = ((away > 0 ? aside * px / away : 0) * -sine_ - height * cosine_) / depth;
    if (depth - end <= kFlat) return {way, away - radius_};
    if (slope <= 0) return {};
    way -= (depth - end) / slope;
  }
  return {};
}

HollowFace::Nears HollowFace::exits(const OutlineCircle& outline, Vec3 middle, double enough) const {
  Nears nears;
  const Circle circle(*this, outline.r, middle);
  if (tube_ == 0 && sine_ < kUpright) return nears;
  // Does any point get out before `enough`?
  const double far = diagonal(circle.dx, circle.dy), tip = outline.r * sine_;
  double gone = std::min(enough, 1e6);
  if (tube_ > 0) {  // between the heights of the tube's middle and its bottom
    if ((circle.rise - tip) / cosine_ >= enough) return nears;
    gone = std::min(gone, (circle.rise + tip + tube_) / cosine_);
    if (gone < 0) return nears;
  }
  const double most = far + outline.r + gone * sine_, lowest = circle.rise - tip - gone * cosine_;
  const double deepest = tube_ > 0 ? diagonal(std::max(0.0, most - radius_), std::min(0.0, lowest)) : most;
  if (deepest < size() - outline.offset || (tube_ > 0 && most < radius_)) return nears;
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
    const Exit only = exit(circle, outline.offset, std::cos(turn), std::sin(turn));
    if (only.past >= 0) take(turn, only.way);
    return nears;
  }
  const auto exit_at = [&](double turn) { return exit(circle, outline.offset, std::cos(turn), std::sin(turn)); };
  const auto way = [&](double turn) {
    const Exit at = exit_at(turn);
    return at.past >= 0 ? at.way : INFINITY;
  };
  const auto look = [&](double turn, double step, double before, double here, double after) {
    if (!(here < INFINITY && here <= before && here < after)) return;
    const auto [at, least] = least_between(turn - step, turn + step, way);
    least < here ? take(at, least) : take(turn, here);
  };
  std::array<Exit, kAround> around;
  for (std::size_t i = 0; i < kAround; ++i)
    around[i] = exit(circle, outline.offset, kPlaces.cosine[i], kPlaces.sine[i]);
  for (std::size_t i = 0; i < kAround; ++i) {
    const Exit &here = around[i], &before = around[(i + kAround - 1) % kAround], &after = around[(i + 1) % kAround];
    const double turn = kStep * static_cast<double>(i);
    if (tube_ == 0) {
      look(turn, kStep, before.way, here.way, after.way);
      continue;
    }
    // The stretches that leave through the corner and not its floor, about the places that are furthest out. Between
    // the steps it is no further out than this.
    if (!(here.past >= before.past && here.past > after.past && here.past + outline.r * kStep * kStep >= 0)) continue;
    double peak = turn;
    if (here.past < 0) {
      const auto [at, short_by] = least_between(turn - kStep, turn + kStep, [&](double t) { return -exit_at(t).past; });
      if (short_by >= 0) continue;
      peak = at;
    }
    double end[2];
    for (const int sign : {-1, 1}) {
      double in = peak, out = turn + sign * kStep;
      std::size_t k = i;
      for (std::size_t walked = 1; walked < kAround; ++walked) {
        k = (k + (sign > 0 ? 1 : kAround - 1)) % kAround;
        if (around[k].past < 0) break;
        in = out;
        out += sign * kStep;
      }
      for (int halved = 0; halved < kEnds; ++halved) {
        const double half = 0.5 * (in + out);
        (exit_at(half).past >= 0 ? in : out) = half;
      }
      end[sign > 0] = out;
    }
    const int steps = std::max(kWithin, static_cast<int>((end[1] - end[0]) / kStep));
    const double step = (end[1] - end[0]) / steps;
    double last = way(end[0]), now = way(end[0] + step);
    for (int j = 1; j < steps; ++j) {
      const double place = end[0] + step * j, next = way(place + step);
      look(place, step, last, now, next);
      last = now;
      now = next;
    }
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
