#include "trim.hpp"

#include <algorithm>
#include <cmath>

#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr int kBins = 256;

/// Two coordinates on a face's surface: in a plane x and y; else the azimuth (radians) about the frame's z and the
/// height along it (cylinder, cone), how much wider than its radius (sheared cone), the angle above the equator
/// (sphere) or about the tube (torus, 0 = outward).
struct OnFace {
  double s = 0, t = 0;
};

OnFace on_face(const Face& face, Vec3 point) {
  const Vec3 d = point - face.frame.origin;
  const double x = dot(d, face.frame.x), y = dot(d, face.frame.y), z = dot(d, face.frame.z);
  switch (face.kind) {
    case Surface::sphere:
      return {std::atan2(y, x), std::atan2(z, diagonal(x, y))};
    case Surface::torus:
      return {std::atan2(y, x), std::atan2(z, diagonal(x, y) - face.radius)};
    case Surface::cylinder:
    case Surface::cone:
      return {std::atan2(y, x), z};
    case Surface::sheared_cone:
      return {std::atan2(y, x), diagonal(x, y) - face.radius};
    case Surface::plane:
    case Surface::free_form:
      break;
  }
  return {x, y};
}

}  // namespace

Trim::Trim(const Face& face, const std::vector<std::pair<Vec3, Vec3>>& border)
    : face_(face), round_(face.kind != Surface::plane && face.kind != Surface::free_form), bins_(kBins) {
  std::vector<Side> sides;
  sides.reserve(border.size());
  double low = 1e300, high = -1e300, lowest = 1e300, highest = -1e300;
  const auto add = [&](const auto& again, Vec3 from, Vec3 to, int depth) -> void {
    const OnFace a = on_face(face, from);
    OnFace b = on_face(face, to);
    // The short way round. Past the cut at +-pi a side is entered from both ends: either end stays the very number that
    // the next side begins with.
    const double turn = round_ ? -2 * kPi * std::round((b.s - a.s) / (2 * kPi)) : 0;
    // Beside the axis a straight piece is far from straight in these coordinates.
    if (round_ && std::fabs(b.s + turn - a.s) > kWidestSide && depth < kMostSideHalvings) {
      const Vec3 middle = 0.5 * (from + to);
      again(again, from, middle, depth + 1);
      again(again, middle, to, depth + 1);
      return;
    }
    if (face.kind == Surface::torus) b.t -= 2 * kPi * std::round((b.t - a.t) / (2 * kPi));
    const auto enter = [&](double s0, double s1) {
      sides.push_back(s0 <= s1 ? Side{s0, a.t, s1, b.t} : Side{s1, b.t, s0, a.t});
    };
    enter(a.s, b.s + turn);
    if (turn != 0) enter(a.s - turn, b.s);
    low = std::min({low, a.s, b.s});
    high = std::max({high, a.s, b.s});
    lowest = std::min({lowest, a.t, b.t});
    highest = std::max({highest, a.t, b.t});
  };
  for (const auto& [from, to] : border) add(add, from, to, 0);
  if (round_) {
    low = -kPi;
    high = kPi;
  }
  if (!(high > low)) return;
  range_ = {low, high, lowest, highest};
  if (face.kind == Surface::sphere) {  // a pole has no border
    range_.t0 = -kPi / 2;
    range_.t1 = kPi / 2;
  }
  low_ = low;
  width_ = (high - low) / kBins;
  for (const Side& side : sides) {
    const int from = std::max(0, static_cast<int>(std::floor((side.s0 - low_) / width_)));
    const int to = std::min(kBins - 1, static_cast<int>(std::floor((side.s1 - low_) / width_)));
    for (int bin = from; bin <= to; ++bin) bins_[static_cast<std::size_t>(bin)].push_back(side);
  }
  if (face.kind == Surface::cone) reach_point();
}

/// A face whose border goes an odd number of times round a cone reaches to its point, which has no border. It may lie
/// either way along the axis.
void Trim::reach_point() {
  constexpr double kAnywhere = 0.1234;  // radians
  const double slope = std::tan(face_.radius2);
  bool at_end = false;
  if (slope == 0 || !odd(kAnywhere, 1e300, at_end)) return;
  const double point = -face_.radius / slope;
  has_point_ = true;
  from_below_ = point < range_.t0;
  (from_below_ ? range_.t0 : range_.t1) = point;
}

/// Two sides that meet end at the same place but for rounding: between the two ends, or at the cut, one of them may not
/// be met. So near the end of a side the places beside it are asked.
bool Trim::inside(double s, double t) const {
  bool at_end = false;
  const bool in = odd(s, t, at_end) != from_below_;
  if (!at_end) return in;
  return odd(s - 2 * kSideEnd, t, at_end) != from_below_ || odd(s + 2 * kSideEnd, t, at_end) != from_below_;
}

bool Trim::odd(double s, double t, bool& at_end) const {
  if (round_ && s >= kPi) s -= 2 * kPi;  // sides end before their last place: at the cut the next one's first counts
  if (round_ && s < -kPi) s += 2 * kPi;
  const double place = std::floor((s - low_) / width_);
  if (!(place >= 0 && place <= kBins)) return false;
  const auto& bin = bins_[static_cast<std::size_t>(std::min<double>(place, kBins - 1))];
  bool in = false;
  for (const Side& side : bin) {
    at_end |= std::fabs(s - side.s0) < kSideEnd || std::fabs(s - side.s1) < kSideEnd;
    if (s < side.s0 || s >= side.s1) continue;  // nor is one met that goes along the ray
    in ^= side.t0 + (s - side.s0) / (side.s1 - side.s0) * (side.t1 - side.t0) < t;
  }
  return in;
}

bool Trim::within(Vec3 point) const {
  const OnFace at = on_face(face_, point);
  return inside(at.s, at.t);
}

Trim::Box Trim::box(double s0, double s1, double t0, double t1) const {
  const auto bin_of = [&](double s) {
    return static_cast<std::size_t>(std::clamp(std::floor((s - low_) / width_), 0.0, kBins - 1.0));
  };
  for (std::size_t bin = bin_of(s0); bin <= bin_of(s1); ++bin)
    for (const Side& side : bins_[bin]) {
      const double from = std::max(s0, side.s0), to = std::min(s1, side.s1);
      if (from > to) continue;
      double a = side.t0, b = side.t1;
      if (side.s1 > side.s0) {
        const double rise = (side.t1 - side.t0) / (side.s1 - side.s0);
        a = side.t0 + (from - side.s0) * rise;
        b = side.t0 + (to - side.s0) * rise;
      }
      if (std::max(a, b) >= t0 && std::min(a, b) <= t1) return Box::across;
    }
  return inside(0.5 * (s0 + s1), 0.5 * (t0 + t1)) ? Box::on : Box::off;
}

bool Trim::holds(Vec3 point) const {
  const OnFace at = on_face(face_, point);
  if (inside(at.s, at.t)) return true;
  double ds = kBorder, dt = kBorder;
  if (round_) {
    const Vec3 d = point - face_.frame.origin;
    const Vec3 aside = d - dot(d, face_.frame.z) * face_.frame.z;
    ds = kBorder / std::max(norm(aside), kBorder);
    if (face_.kind == Surface::sphere) dt = kBorder / face_.radius;
    if (face_.kind == Surface::torus) dt = kBorder / face_.radius2;
  }
  return inside(at.s - ds, at.t) || inside(at.s + ds, at.t) || inside(at.s, at.t - dt) || inside(at.s, at.t + dt);
}

}  // namespace eyebrow::gap
