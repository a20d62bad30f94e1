#include "solid/outline_volume.hpp"

#include <cmath>

#include "eyebrow/vec.hpp"

namespace eyebrow {
namespace {

double straight_piece(Point2 a, Point2 b) {
  return (b.w - a.w) * (a.r * a.r + a.r * b.r + b.r * b.r) / 3;
}

/// r = c + R cos t, dw = R cos t dt from angle t0 to t1.
double arc_piece_volume(const ProfileElement& e) {
  const double c = e.centre.r, radius = e.radius;
  double t0 = std::atan2(e.from.w - e.centre.w, e.from.r - c), t1 = std::atan2(e.to.w - e.centre.w, e.to.r - c);
  if (t1 - t0 > kPi) t0 += 2 * kPi;  // each arc is less than half a turn
  if (t0 - t1 > kPi) t1 += 2 * kPi;
  const auto antiderivative = [&](double t) {
    const double s = std::sin(t);
    return radius * (c * c * s + c * radius * (t + s * std::cos(t)) + radius * radius * (s - s * s * s / 3));
  };
  return antiderivative(t1) - antiderivative(t0);
}

}  // namespace

double outline_volume(const Profile& profile) {
  double sum = 0;
  for (const ProfileElement& e : profile.elements)
    sum += e.radius > 0 ? arc_piece_volume(e) : straight_piece(e.from, e.to);
  return kPi * sum;
}

}  // namespace eyebrow
