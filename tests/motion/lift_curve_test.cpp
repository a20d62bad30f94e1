// LiftCurve's evaluation and bounds. Outside reference for the interpolation: Boost.Math's quintic Hermite.
#include <gtest/gtest.h>

#include <boost/math/interpolators/quintic_hermite.hpp>
#include <random>

#include "eyebrow/fault.hpp"
#include "motion/curve_checks.hpp"
#include "motion/quintic.hpp"

namespace eyebrow {
namespace {

std::vector<LiftKnot> random_knots(std::mt19937& random) {
  std::uniform_real_distribution<double> part(0, 1);
  std::vector<LiftKnot> knots;
  double angle = -2;
  for (int i = 0; i < 9; ++i) {
    // Lifts high enough that no piece dips below zero, where lift() would be held at zero.
    knots.push_back({angle, 20 + 10 * part(random), 4 * (part(random) - 0.5), 8 * (part(random) - 0.5)});
    angle += 0.2 + part(random);
  }
  return knots;
}

TEST(LiftCurve, AgreesWithBoostQuinticHermite) {
  std::mt19937 random(7);
  for (int trial = 0; trial < 20; ++trial) {
    const std::vector<LiftKnot> knots = random_knots(random);
    std::vector<double> x, y, v, a;
    for (const LiftKnot& knot : knots) {
      x.push_back(knot.angle);
      y.push_back(knot.lift);
      v.push_back(knot.velocity);
      a.push_back(knot.acceleration);
    }
    const LiftCurve curve(knots);
    const double begin = x.front(), end = x.back();
    const boost::math::interpolators::quintic_hermite reference(std::move(x), std::move(y), std::move(v), std::move(a));
    for (int i = 1; i < 500; ++i) {
      const double at = begin + (end - begin) * i / 500;
      EXPECT_NEAR(curve.lift(at), reference(at), 1e-11);
      EXPECT_NEAR(curve.velocity(at), reference.prime(at), 1e-10);
      EXPECT_NEAR(curve.acceleration(at), reference.double_prime(at), 1e-9);
    }
  }
}

TEST(LiftCurve, SpeedBoundHoldsOnAnyChain) {
  std::mt19937 random(8);
  for (int trial = 0; trial < 200; ++trial) {
    const LiftCurve curve(random_knots(random));
    checks::expect_speed_bound(curve);
  }
}

TEST(LiftCurve, IsZeroOutside) {
  const LiftCurve curve({{-1, 0, 0, 0}, {0, 5, 0, -20}, {1, 0, 0, 0}});
  for (double angle : {-100.0, -1.0, 1.0, 2.0, 100.0}) {
    EXPECT_EQ(curve.lift(angle), 0);
    EXPECT_EQ(curve.velocity(angle), 0);
    EXPECT_EQ(curve.acceleration(angle), 0);
  }
  EXPECT_EQ(curve.peak(), 5);
  EXPECT_EQ(curve.peak_angle(), 0);
}

TEST(LiftCurve, PeakMayLieBetweenKnots) {
  // Closed form: 4 - x^2 is a quintic too, so the chain is exact between -1 and 1.
  const LiftCurve curve({{-3, 0, 0, 0}, {-1.0, 3, 2, -2}, {1.5, 1.75, -3, -2}, {3, 0, 0, 0}});
  EXPECT_NEAR(curve.peak(), 4, 1e-12);
  EXPECT_NEAR(curve.peak_angle(), 0, 1e-7);
}

TEST(LiftCurve, UnsortedOrTooFewKnotsAreRefused) {
  EXPECT_THROW(LiftCurve({{0, 0, 0, 0}}), Error);
  EXPECT_THROW(LiftCurve({{0, 0, 0, 0}, {0, 1, 0, 0}}), Error);
  EXPECT_THROW(LiftCurve({{0, 0, 0, 0}, {2, 1, 0, 0}, {1, 0, 0, 0}}), Error);
}

TEST(LiftCurve, FlankCentreIsTheMiddleAtTheStatedHeight) {
  // Closed form: flanks of 4 - x^2 (left of 0) and 4 - x^2/4 (right) at 1 below the peak: -1 and 2.
  const LiftCurve curve({{-4, 0, 0, 0},
                         {-1.8, 0.76, 3.6, -2},
                         {0, 4, 0, -2},
                         {0.1, 3.9975, -0.05, -0.5},
                         {3.6, 0.76, -1.8, -0.5},
                         {6, 0, 0, 0}});
  EXPECT_NEAR(flank_centre(curve, 1), 0.5, 1e-9);
  EXPECT_NEAR(flank_centre(curve, 2.25), 0.75, 1e-9);
  EXPECT_THROW(flank_centre(curve, 0), InputError);
  EXPECT_THROW(flank_centre(curve, 4), InputError);
}

TEST(Quintic, ControlsBoundWhatIsSampled) {
  std::mt19937 random(9);
  std::uniform_real_distribution<double> part(-1, 1);
  int rising = 0;
  for (int trial = 0; trial < 2000; ++trial) {
    const LiftKnot from{0.3, 1, 1 + part(random), 12 * part(random)}, to{1.1, 1.8, 1 + part(random), 12 * part(random)};
    const LiftCurve curve({from, to});
    double least = 1e9, greatest_acceleration = -1e9;
    for (int i = 0; i <= 1000; ++i) {
      const double x = std::min(0.3 + 0.8 * i / 1000, 1.1 - 1e-12) + (i == 0 ? 1e-12 : 0);
      least = std::min(least, curve.velocity(x));
      greatest_acceleration = std::max(greatest_acceleration, curve.acceleration(x));
    }
    // Shown means true; not shown means within the proof's reach of false.
    const bool shown = motion::velocity_at_least(from, to, 1, 0.01);
    rising += shown;
    if (shown) {
      EXPECT_GE(least, 0.01 - 1e-9);
    } else {
      EXPECT_LT(least, 0.01 + 1e-3);
    }
    EXPECT_EQ(motion::acceleration_at_most(from, to, 0.0), greatest_acceleration <= 0);
  }
  EXPECT_GT(rising, 200);
  EXPECT_LT(rising, 1800);
}

}  // namespace
}  // namespace eyebrow
