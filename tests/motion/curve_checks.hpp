// What every lift curve must be, measured from outside: by values alone.
#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/motion.hpp"

namespace eyebrow::checks {

inline constexpr int kSamples = 4000;  // over the lobe

template <typename F>
double greatest_magnitude(const LiftCurve& curve, F f) {
  double greatest = 0;
  for (int i = 1; i < kSamples; ++i) {
    greatest = std::max(greatest, std::fabs(f(curve.begin() + (curve.end() - curve.begin()) * i / kSamples)));
  }
  return greatest;
}

/// Greatest jump of the acceleration across any knot, as part of the greatest acceleration.
inline double acceleration_jump(const LiftCurve& curve) {
  const double scale = greatest_magnitude(curve, [&](double x) { return curve.acceleration(x); });
  constexpr double kNear = 1e-10;
  double jump = 0;
  for (const LiftKnot& knot : curve.knots()) {
    jump = std::max(jump, std::fabs(curve.acceleration(knot.angle + kNear) - curve.acceleration(knot.angle - kNear)));
  }
  return jump / scale;
}

/// Lift, velocity and acceleration agree with each other (central differences, second-order error) and neither velocity
/// nor acceleration jumps anywhere, the ends of the lobe included.
inline void expect_continuous(const LiftCurve& curve) {
  const double speed = greatest_magnitude(curve, [&](double x) { return curve.velocity(x); });
  constexpr double kNear = 1e-10;
  for (const LiftKnot& knot : curve.knots()) {
    const double a = knot.angle - kNear, b = knot.angle + kNear;
    EXPECT_NEAR(curve.lift(a), curve.lift(b), 2.1 * kNear * curve.velocity_bound() + 1e-14 * curve.peak())
        << knot.angle / kDegree;
    EXPECT_NEAR(curve.velocity(a), curve.velocity(b), 1e-7 * speed) << knot.angle / kDegree;
  }
  EXPECT_LT(acceleration_jump(curve), 1e-5);

  const double acceleration = greatest_magnitude(curve, [&](double x) { return curve.acceleration(x); });
  constexpr double kStep = 1e-5;
  for (int i = 0; i <= kSamples; ++i) {
    const double x = curve.begin() - 0.1 + (curve.end() - curve.begin() + 0.2) * i / kSamples;
    EXPECT_NEAR((curve.lift(x + kStep) - curve.lift(x - kStep)) / (2 * kStep), curve.velocity(x), 1e-5 * speed);
    EXPECT_NEAR((curve.velocity(x + kStep) - curve.velocity(x - kStep)) / (2 * kStep), curve.acceleration(x),
                2e-3 * acceleration);
  }
}

/// Zero outside, never negative, rising to one maximum and falling, within its stated peak.
inline void expect_one_maximum(const LiftCurve& curve) {
  EXPECT_EQ(curve.lift(curve.begin()), 0);
  EXPECT_EQ(curve.lift(curve.end()), 0);
  EXPECT_EQ(curve.lift(curve.begin() - 1), 0);
  EXPECT_EQ(curve.lift(curve.end() + 1), 0);
  const double rounding = 1e-14 * curve.peak();
  double last = 0;
  int wrong_way = 0;
  for (int i = 0; i <= kSamples; ++i) {
    const double x = curve.begin() + (curve.end() - curve.begin()) * i / kSamples;
    const double lift = curve.lift(x);
    if (lift < 0 || lift > curve.peak() + rounding) ++wrong_way;
    if (x <= curve.peak_angle() ? lift < last - rounding : lift > last + rounding && x - curve.peak_angle() > 1e-2) {
      ++wrong_way;
    }
    last = lift;
  }
  EXPECT_EQ(wrong_way, 0);
  EXPECT_NEAR(curve.lift(curve.peak_angle()), curve.peak(), rounding);
  EXPECT_NEAR(curve.velocity(curve.peak_angle()), 0, 1e-9 * curve.velocity_bound());
}

/// The stated bound is one, and not much more than the greatest speed.
inline void expect_speed_bound(const LiftCurve& curve) {
  const double speed = greatest_magnitude(curve, [&](double x) { return curve.velocity(x); });
  EXPECT_LE(speed, curve.velocity_bound());
  EXPECT_GE(speed, 0.99 * curve.velocity_bound());
  const double acceleration = greatest_magnitude(curve, [&](double x) { return curve.acceleration(x); });
  EXPECT_LE(acceleration, curve.acceleration_bound());
}

/// How often the acceleration changes sign between `from` and `to`.
inline int acceleration_sign_changes(const LiftCurve& curve, double from, double to) {
  const double small = 1e-9 * greatest_magnitude(curve, [&](double x) { return curve.acceleration(x); });
  int changes = 0;
  double last = 0;
  for (int i = 0; i <= kSamples; ++i) {
    const double a = curve.acceleration(from + (to - from) * i / kSamples);
    if (std::fabs(a) < small) continue;
    if (a * last < 0) ++changes;
    last = a;
  }
  return changes;
}

}  // namespace eyebrow::checks
