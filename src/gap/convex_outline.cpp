#include "convex_outline.hpp"

#include <algorithm>
#include <cmath>

#include "outline.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr double kStraightOn = 1e-9;  // radians: two elements that go on smoothly

constexpr double kSteepest = 1e3;  // of a tangent

Point2 from_centre(const ProfileElement& e, Point2 p) {
  return {(p.r - e.centre.r) / e.radius, (p.w - e.centre.w) / e.radius};
}

/// Sine of the turn to the left from one element to the next.
double turn(const ProfileElement& before, const ProfileElement& after) {
  const Point2 a = direction_at(before, before.to), b = direction_at(after, after.from);
  return a.r * b.w - a.w * b.r;
}

ProfileElement lid(Point2 from, Point2 to) {
  return {ValvePart::underhead, from, to, {}, 0, true};
}

}  // namespace

ConvexOutline::ConvexOutline(const std::vector<ProfileElement>& elements) : lowest_(INFINITY) {
  for (const ProfileElement& e : elements) {
    const double length = diagonal(e.to.r - e.from.r, e.to.w - e.from.w);
    if (length == 0) continue;
    if (e.radius > 0)
      rounds_.push_back({e.centre, from_centre(e, e.from), from_centre(e, e.to), e.radius});
    else
      lines_.push_back({e.from.r, e.from.w, (e.to.r - e.from.r) / length, (e.to.w - e.from.w) / length, length});
    corners_.push_back(e.from);
    corners_.push_back(e.to);
    reach_ = std::max({reach_, e.from.r, e.to.r});
    extent_ = std::max({extent_, diagonal(e.from.r, e.from.w), diagonal(e.to.r, e.to.w)});
  }
  lowest_ = support(0, 1).w;
}

double ConvexOutline::eval(double r, double w, double& dr, double& dw) const {
  double inside = -INFINITY, square = INFINITY, nr = 0, nw = 1, br = 0, bw = 0;
  for (const Line& e : lines_) {
    const double x = r - e.r, y = w - e.w, side = e.tw * x - e.tr * y;  // metal on the left
    if (side > inside) {
      inside = side;
      nr = e.tw;
      nw = -e.tr;
    }
    if (side <= 0) continue;
    const double t = std::clamp(e.tr * x + e.tw * y, 0.0, e.length);
    const double qr = x - t * e.tr, qw = y - t * e.tw, q = qr * qr + qw * qw;
    if (q < square) {
      square = q;
      br = qr;
      bw = qw;
    }
  }
  for (const Round& e : rounds_) {
    const double x = r - e.centre.r, y = w - e.centre.w, rho = std::sqrt(x * x + y * y);
    if (rho > 0 && e.from.r * y - e.from.w * x >= 0 && x * e.to.w - y * e.to.r >= 0) {
      const double side = rho - e.radius;
      if (side > inside) {
        inside = side;
        nr = x / rho;
        nw = y / rho;
      }
      if (side > 0 && side * side < square) {
        square = side * side;
        br = x / rho * side;
        bw = y / rho * side;
      }
      continue;
    }
    for (const Point2& end : {e.from, e.to}) {
      const double qr = x - e.radius * end.r, qw = y - e.radius * end.w, q = qr * qr + qw * qw;
      if (q < square) {
        square = q;
        br = qr;
        bw = qw;
      }
    }
  }
  dr = nr;
  dw = nw;
  if (inside <= 0) return inside;
  const double distance = std::sqrt(square);
  if (distance > 1e-12) {
    dr = br / distance;
    dw = bw / distance;
  }
  return distance;
}

double ConvexOutline::beside(double r, double w, double& dr, double& dw) const {
  double first = -INFINITY, second = -INFINITY, nr = 0, nw = 1;
  const auto take = [&](double side, double by_r, double by_w) {
    if (side > first) {
      second = first;
      dr = nr;
      dw = nw;
      first = side;
      nr = by_r;
      nw = by_w;
    } else if (side > second) {
      second = side;
      dr = by_r;
      dw = by_w;
    }
  };
  for (const Line& e : lines_) take(e.tw * (r - e.r) - e.tr * (w - e.w), e.tw, -e.tr);
  for (const Round& e : rounds_) {
    const double x = r - e.centre.r, y = w - e.centre.w, rho = std::sqrt(x * x + y * y);
    if (rho > 0 && e.from.r * y - e.from.w * x >= 0 && x * e.to.w - y * e.to.r >= 0)
      take(rho - e.radius, x / rho, y / rho);
  }
  return second;
}

/// At a place of the ball where a side is the nearest, it is no further than twice the ball's radius from being so at
/// its middle.
ConvexOutline::Dips ConvexOutline::dips_inside(double r, double w, double spread) const {
  double nearest = -INFINITY;
  const auto rise = [&](const Line& e) { return e.tw * (r - e.r) - e.tr * (w - e.w); };
  const auto away = [&](const Round& e) { return diagonal(r - e.centre.r, w - e.centre.w); };
  for (const Line& e : lines_) nearest = std::max(nearest, rise(e));
  for (const Round& e : rounds_) {
    const double x = r - e.centre.r, y = w - e.centre.w;
    if (e.from.r * y - e.from.w * x >= 0 && x * e.to.w - y * e.to.r >= 0)
      nearest = std::max(nearest, away(e) - e.radius);
  }
  Dips dips{INFINITY, -INFINITY};
  const auto take = [&](double dip) { dips = {std::min(dips.flat, dip), std::max(dips.steep, dip)}; };
  for (const Line& e : lines_)
    if (rise(e) >= nearest - 2 * spread) take(std::atan2(e.tr, e.tw));
  for (const Round& e : rounds_) {
    const double rho = away(e);
    if (rho - e.radius < nearest - 2 * spread) continue;
    const double first = std::atan2(-e.from.w, e.from.r), last = std::atan2(-e.to.w, e.to.r);
    if (rho <= spread) {
      take(first);
      take(last);
      continue;
    }
    const double dip = std::atan2(e.centre.w - w, r - e.centre.r), turn = std::asin(spread / rho);
    if (dip - turn > first || dip + turn < last) continue;
    take(std::min(first, dip + turn));
    take(std::max(last, dip - turn));
  }
  return dips;
}

/// What is left of the way to the nearest place changes by no more than the place does, as the solid is convex.
ConvexOutline::Dips ConvexOutline::dips_outside(double r, double w, double spread) const {
  double dr = 0, dw = 0;
  const double far = eval(r, w, dr, dw);
  if (!(far > spread)) return {-INFINITY, INFINITY};
  const double dip = std::atan2(-dw, dr), turn = std::asin(spread / far);
  return {dip - turn, dip + turn};
}

/// The lower side is convex: it is steepest furthest out. Where it comes to stand upright nothing is steeper.
ConvexOutline::Dips ConvexOutline::dips_along(double r, double spread) const {
  const double outer = r + spread < reach_ ? lower(r + spread).slope : kSteepest,
               inner = r > spread ? lower(r - spread).slope : 0;
  return {outer < kSteepest ? std::atan2(1, outer) : 0, std::atan2(1, inner)};
}

ConvexOutline::Level ConvexOutline::lower(double r) const {
  return level(r, 1);
}

ConvexOutline::Level ConvexOutline::upper(double r) const {
  return level(r, -1);
}

/// The convex side that `sign` w is least on; of two elements that meet at r the one further in.
ConvexOutline::Level ConvexOutline::level(double r, double sign) const {
  Level best{INFINITY, 0, INFINITY};
  const auto take = [&](double w, double slope, double tangent) {
    if (w < best.w || (w == best.w && slope < best.slope)) best = {w, slope, tangent};
  };
  for (const Line& e : lines_) {
    const double along = r - e.r, span = e.tr * e.length;
    if (e.tr == 0 || along < std::min(0.0, span) || along > std::max(0.0, span)) continue;
    const double slope = sign * e.tw / e.tr, w = sign * e.w + slope * along;
    take(w, slope, w);
  }
  for (const Round& e : rounds_) {
    const double x = r - e.centre.r, square = e.radius * e.radius - x * x;
    if (square < 0) continue;
    const double y = -sign * std::sqrt(square);
    if (e.from.r * y - e.from.w * x < -1e-12 * e.radius || x * e.to.w - y * e.to.r < -1e-12 * e.radius) continue;
    const double w = sign * (e.centre.w + y), steep = kSteepest / diagonal(1.0, kSteepest);
    if (x <= steep * e.radius) {
      take(w, x / std::fabs(y), w);
    } else {
      const double at = sign * e.centre.w - std::sqrt(1 - steep * steep) * e.radius;
      take(w, kSteepest, at + kSteepest * (x - steep * e.radius));
    }
  }
  return {sign * best.w, sign * best.slope, sign * best.tangent};
}

Point2 ConvexOutline::support(double a, double b) const {
  Point2 best;
  double least = INFINITY;
  for (const Point2& p : corners_)
    if (a * p.r + b * p.w < least) {
      least = a * p.r + b * p.w;
      best = p;
    }
  const double length = diagonal(a, b);
  for (const Round& e : rounds_) {
    const Point2 n{-a / length, -b / length};
    if (e.from.r * n.w - e.from.w * n.r < 0 || n.r * e.to.w - n.w * e.to.r < 0) continue;
    const Point2 p{e.centre.r + e.radius * n.r, e.centre.w + e.radius * n.w};
    if (p.r >= 0 && a * p.r + b * p.w < least) {
      least = a * p.r + b * p.w;
      best = p;
    }
  }
  return best;
}

std::vector<ConvexOutline> convex_pieces(const Profile& profile) {
  std::vector<ConvexOutline> pieces;
  std::vector<ProfileElement> piece;
  const auto& elements = profile.elements;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    piece.push_back(elements[i]);
    const bool last = i + 1 == elements.size();
    if (!last && turn(elements[i], elements[i + 1]) >= -kStraightOn) continue;
    const Point2 end = elements[i].to;
    if (end.r > 0) piece.push_back(lid(end, {0, end.w}));
    pieces.emplace_back(piece);
    piece.clear();
    if (!last) piece.push_back(lid({0, end.w}, end));
  }
  return pieces;
}

ConvexOutline upright_hull(const Profile& profile) {
  std::vector<ProfileElement> hull;
  const std::size_t margin = margin_of(profile.elements);
  for (std::size_t i = 0; i <= margin; ++i) hull.push_back(profile.elements[i]);
  if (hull.back().part == ValvePart::margin)
    hull.back().to.w = profile.top;
  else
    hull.push_back({ValvePart::margin, hull.back().to, {hull.back().to.r, profile.top}, {}, 0, true});
  hull.push_back(lid(hull.back().to, {0, profile.top}));
  return ConvexOutline(hull);
}

StemSide stem_side(const Profile& profile) {
  StemSide side{profile.rim_radius, profile.top, profile.top};
  for (const ProfileElement& e : profile.elements)
    if (e.part == ValvePart::stem && e.from.r < side.r)
      side = {e.from.r, e.from.w, e.to.r == e.from.r && e.to.w > e.from.w ? e.to.w : e.from.w};
  return side;
}

std::vector<OutlineCircle> outline_circles(const Profile& profile) {
  std::vector<OutlineCircle> circles;
  const auto& elements = profile.elements;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    const ProfileElement& e = elements[i];
    if (e.radius > 0 && e.bulges)
      circles.push_back({e.centre.r, e.centre.w, e.radius, from_centre(e, e.from), from_centre(e, e.to)});
    if (i + 1 < elements.size() && turn(e, elements[i + 1]) > kStraightOn)
      circles.push_back({e.to.r, e.to.w, 0, {}, {}});
  }
  return circles;
}

}  // namespace eyebrow::gap
