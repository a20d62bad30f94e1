// The closed forms behind the allowances, each against a second way to the same number.
#include "motion/running_formulas.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "eyebrow/motion.hpp"

namespace eyebrow::motion {
namespace {

TEST(RunningFormulas, PullAndStretchByHand) {
  // By hand: r = 0.0442 m, l = 0.1448 m, 7000 rpm = 733.038 rad/s; r w^2 = 23750.6 m/s2; times 1 + 0.305249 =
  // 31000.4 m/s2; times 0.70 kg = 21700.3 N.
  const double pull = inertia_pull(0.70, 88.4, 144.8, 7000);
  EXPECT_NEAR(pull, 21700.3, 1);
  // 21700.3 * 144.8 / (250 * 207000) = 0.060717 mm; / (450 * 71000) = 0.098345 mm.
  EXPECT_NEAR(bar_stretch(pull, 144.8, 250, 207e3), 0.060717, 5e-6);
  EXPECT_NEAR(bar_stretch(pull, 144.8, 450, 71e3), 0.098345, 5e-6);
  // Memory: 21.7 kN; steel 0.061 mm, aluminium 0.098 mm.
  EXPECT_NEAR(pull / 1000, 21.7, 0.05);
  EXPECT_NEAR(bar_stretch(pull, 144.8, 250, 207e3), 0.061, 0.0005);
  EXPECT_NEAR(bar_stretch(pull, 144.8, 450, 71e3), 0.098, 0.0005);
}

TEST(RunningFormulas, PullFallsWithSpeedAsPublished) {
  // Published (technical page of a maker of rods): from 9000 to 8000 rpm the load falls by 21 %.
  EXPECT_NEAR(inertia_pull(0.6, 90, 150, 8000) / inertia_pull(0.6, 90, 150, 9000), 1 - 0.21, 0.005);
}

TEST(RunningFormulas, PullIsMassTimesTheSecondDerivativeOfTheDrop) {
  for (const double offset : {0.0, 1.0, -6.0}) {
    const CrankSlider slider(88.4, 144.8, offset);
    constexpr double kStep = 1e-4, kSpeed = 100;  // rad, rad/s
    const double bend = (slider.speed(kStep) - slider.speed(-kStep)) / (2 * kStep);
    const double pull = inertia_pull(1, 88.4, 144.8, kSpeed * 60 / (2 * kPi));
    // Closed form: the offset divides it by cos asin(e / (l + r)).
    const double cosine = std::cos(std::asin(offset / (144.8 + 44.2)));
    EXPECT_NEAR(bend * kSpeed * kSpeed / 1000 * cosine, pull, 1e-6 * pull) << offset;
    EXPECT_NEAR(bend * kSpeed * kSpeed / 1000, pull, 1e-3 * pull) << offset << ": what is left out";
  }
}

TEST(RunningFormulas, SmallEndOnTheScaleIsTheRightShare) {
  // A rod as 4000 slices of random mass, pulled at a = 1 by all that is above: the stretch slice by slice, against the
  // pull of the mass on the scale under the small end (moments about the big end's centre).
  std::mt19937 random(5);
  std::uniform_real_distribution<double> part(0, 1);
  constexpr int kSlices = 4000;
  constexpr double kLength = 150, kSection = 250, kModulus = 207e3, kPin = 0.5;
  for (int round = 0; round < 10; ++round) {
    double above = kPin, stretch = 0, scale = kPin;
    for (int i = 0; i < kSlices; ++i) {
      const double mass = 0.001 * part(random) * (1 + round * i / static_cast<double>(kSlices));
      const double s = (i + 0.5) * kLength / kSlices;
      stretch += (above + mass / 2) * (kLength / kSlices) / (kSection * kModulus);
      above += mass;
      scale += mass * (1 - s / kLength);
    }
    EXPECT_NEAR(bar_stretch(scale, kLength, kSection, kModulus), stretch, 1e-10 * stretch);
  }
}

TEST(RunningFormulas, LeaningPartTouchesTheBoreWithOppositeCorners) {
  struct Case {
    double bore, clearance, length;
  };
  for (const Case& c :
       {Case{100, 0.1, 50}, Case{100, 1.0, 20}, Case{7.1, 0.1, 40}, Case{8, 0.5, 16}, Case{640, 0.8, 500}}) {
    const double lean = lean_in_bore(c.bore, c.clearance, c.length);
    // The corners (+-d/2, +-s/2), turned by the lean about the middle of the bore.
    const double d = c.bore - c.clearance;
    double widest = 0;
    for (const double x : {-d / 2, d / 2})
      for (const double z : {-c.length / 2, c.length / 2})
        widest = std::max(widest, std::fabs(x * std::cos(lean) + z * std::sin(lean)));
    EXPECT_NEAR(widest, c.bore / 2, 1e-9) << c.bore;
    EXPECT_GE(lean, c.clearance / c.length) << "the short formula is the lesser";
    // To the second order, closed form: length * t = clearance + diameter t^2 / 2.
    EXPECT_NEAR(lean, (c.clearance + d * lean * lean / 2) / c.length, 1e-3 * lean);
  }
  // It stands upright without play, and lies across where it can turn over.
  EXPECT_NEAR(lean_in_bore(100, 0, 50), 0, 1e-12);
  EXPECT_NEAR(lean_in_bore(100, 10, 20), std::atan2(20, 90), 1e-12);
}

TEST(RunningFormulas, RimStandsOffByTheLever) {
  // Closed form: play 0.05 over 45 mm, rim 35 mm below, radius 25 mm: 0.05 (1/2 + 35/45) = 0.0639; 25 * 0.05 / 45 =
  // 0.0278 mm.
  const GuideEffect effect = guide_effect(0.05, 45, 35, 8, 25);
  EXPECT_NEAR(effect.sideways, 0.0639, 0.0001);
  EXPECT_NEAR(effect.dip, 0.0278, 0.0001);
  // The rim's centre and its lowest point of a stem turned about the middle of its guide.
  const double lean = lean_in_bore(8.05, 0.05, 45), below = 45.0 / 2 + 35;
  EXPECT_NEAR(effect.sideways, below * std::sin(lean) / std::cos(lean), 1e-12);
  const double straight = below, lowest = below * std::cos(lean) + 25 * std::sin(lean);
  EXPECT_GE(effect.dip, lowest - straight);
  EXPECT_NEAR(effect.dip, lowest - straight, 1e-4);
  // Without an overhang it is half the play, as for a stem that lies against one side.
  EXPECT_NEAR(guide_effect(0.05, 45, 0, 8, 25).sideways, 0.025, 1e-4);
}

}  // namespace
}  // namespace eyebrow::motion
