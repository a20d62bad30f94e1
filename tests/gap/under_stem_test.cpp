// A crown flat that ends under the stem of a valve deep in overlap: how deep it is there, against samples of the flat.
#include <gtest/gtest.h>

#include "gap/profile_distance.hpp"
#include "gap/valve_frame.hpp"
#include "random_parts.hpp"
#include "shapes.hpp"

namespace eyebrow {
namespace {

using random_parts::Dice;

/// Least signed distance over the flat (z = 0) beyond the mouth, an ellipse about the origin, near the valve's axis: a
/// grid, then a pattern search from the best.
double deepest_sampled(const gap::ProfileDistance& valve, const gap::ValveFrame& frame, Vec3 axis, double a, double b,
                       double reach) {
  const auto value = [&](double x, double y) {
    if (x * x / (a * a) + y * y / (b * b) < 1) return 1e9;
    const Vec3 q = frame.in({x, y, 0});
    return valve.eval(gap::radius_of(q), q.z).value;
  };
  constexpr int kAcross = 60;
  double best = 1e9, bx = 0, by = 0;
  const auto take = [&](double x, double y) {
    const double here = value(x, y);
    if (here < best) best = here, bx = x, by = y;
  };
  for (int i = -kAcross; i <= kAcross; ++i)
    for (int k = -kAcross; k <= kAcross; ++k) take(axis.x + reach * i / kAcross, axis.y + reach * k / kAcross);
  for (double step = reach / kAcross; step > 1e-6; step *= 0.7) {
    const double x = bx, y = by;
    for (int turn = 0; turn < 16; ++turn)
      take(x + step * std::cos(turn * kPi / 8), y + step * std::sin(turn * kPi / 8));
  }
  return best;
}

// The axis crosses the flat's plane inside the mouth, less than the stem's radius from its edge. No sample is deeper.
TEST(UnderStem, NoPlaceOfAFlatThatEndsThereIsDeeper) {
  Dice dice(20261129);
  int inside = 0;
  for (int i = 0; i < 120; ++i) {
    SCOPED_TRACE(i);
    // It leans along x: there the mouth is longer.
    const shapes::TiltedPocket pocket{0, 0, dice.between(0, 0.3), 0, dice.between(12, 20), 30};
    const double stem = dice.between(2.5, 5);
    const Profile profile = shapes::outline(dice.between(12, 20), 1.4, 0, 0, 2, stem);
    const Vec3 up = tilted_axis(dice.between(0, 0.6), dice.between(0, 6));
    const double a = pocket.radius / std::cos(pocket.tilt), b = pocket.radius;
    const double t = dice.between(0, 2 * kPi), share = 1 - dice.between(0, stem) / pocket.radius;
    const Vec3 axis{share * a * std::cos(t), share * b * std::sin(t), 0};
    const Vec3 centre = axis - dice.between(1, 9) * up;
    const ValveToPiston pair(make_target(shapes::pocketed(60, pocket)), profile, {centre, up}, 0);
    GapRequest request;
    request.travel = request.face = request.radial = false;
    const Gap closest = pair.gaps({0, 0}, request).closest;
    const double sampled =
        deepest_sampled(gap::ProfileDistance(profile), gap::ValveFrame(centre, up), axis, a, b, 2 * stem);
    if (sampled > 0) continue;
    ++inside;
    EXPECT_LE(closest.low, sampled + 1e-9);
  }
  EXPECT_GT(inside, 40);
}

}  // namespace
}  // namespace eyebrow
