#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"

namespace eyebrow {
namespace {

TEST(CrankSlider, IsHighestAtZeroAndEveryTurn) {
  for (double offset : {0.0, 1.0, -1.0, 12.0}) {
    const CrankSlider slider(90, 150, offset);
    for (double turn : {-2.0, -1.0, 0.0, 1.0, 2.0}) {
      EXPECT_NEAR(slider.drop(turn * 2 * kPi), 0, 1e-12);
      EXPECT_NEAR(slider.speed(turn * 2 * kPi), 0, 1e-12);
    }
  }
}

TEST(CrankSlider, FallsAlikeBeforeAndAfterWithoutOffset) {
  const CrankSlider slider(90, 150, 0);
  for (double degrees = 1; degrees < 180; degrees += 7) {
    EXPECT_NEAR(slider.drop(degrees * kDegree), slider.drop(-degrees * kDegree), 1e-12);
  }
}

TEST(CrankSlider, OffsetToTheOtherSideMirrorsTheMotion) {
  const CrankSlider thrust(90, 150, 3), other(90, 150, -3);
  for (double degrees = -180; degrees <= 180; degrees += 7) {
    EXPECT_NEAR(thrust.drop(degrees * kDegree), other.drop(-degrees * kDegree), 1e-12);
  }
}

TEST(CrankSlider, RandomEnginesStayWithinTravelAndSpeedBound) {
  std::mt19937 random(20240501);
  std::uniform_real_distribution<double> part(0, 1);
  for (int engine = 0; engine < 200; ++engine) {
    const double stroke = 40 + 80 * part(random), offset = 10 * (part(random) - 0.5);
    const double rod = (stroke / 2 + std::fabs(offset)) * (1.05 + 3 * part(random));
    const CrankSlider slider(stroke, rod, offset);
    double least = 1e9, greatest = 0, speed = 0;
    constexpr double kStep = 1e-5;
    for (double degrees = -180; degrees <= 180; degrees += 0.25) {
      const double crank = degrees * kDegree;
      least = std::min(least, slider.drop(crank));
      greatest = std::max(greatest, slider.drop(crank));
      speed = std::max(speed, std::fabs(slider.speed(crank)));
      // Speed is the derivative of drop. The difference's error: rounding 1e-13 / 1e-5, and the third derivative.
      EXPECT_NEAR((slider.drop(crank + kStep) - slider.drop(crank - kStep)) / (2 * kStep), slider.speed(crank), 1e-4);
    }
    EXPECT_GE(least, 0);
    EXPECT_LE(greatest, slider.travel() + 1e-9);
    EXPECT_NEAR(greatest, slider.travel(), 1e-3 * stroke);
    EXPECT_LE(speed, slider.speed_bound());
  }
}

TEST(CrankSlider, SpeedBoundIsTightOnAnOrdinaryRod) {
  const CrankSlider slider(90, 150, 0.5);
  double speed = 0;
  for (double degrees = 0; degrees < 360; degrees += 0.01)
    speed = std::max(speed, std::fabs(slider.speed(degrees * kDegree)));
  EXPECT_GT(speed, 0.98 * slider.speed_bound());
}

TEST(CrankSlider, ARodThatCannotPassIsRefused) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(CrankSlider(90, 45, 0), InputError);
  EXPECT_THROW(CrankSlider(90, 46, 1), InputError);
  EXPECT_THROW(CrankSlider(90, 46, -1), InputError);
  EXPECT_THROW(CrankSlider(0, 150, 0), InputError);
  EXPECT_THROW(CrankSlider(-90, 150, 0), InputError);
  EXPECT_THROW(CrankSlider(90, nan, 0), InputError);
  EXPECT_THROW(CrankSlider(nan, 150, 0), InputError);
  EXPECT_THROW(CrankSlider(90, 150, nan), InputError);
  EXPECT_NO_THROW(CrankSlider(90, 46.001, 1));
  try {
    CrankSlider(90, 40, 1);
    FAIL();
  } catch (const InputError& error) {
    EXPECT_STREQ(error.what(),
                 "the rod cannot pass: rod length 40 mm must be greater than half the stroke plus the pin "
                 "offset, 45 + 1 mm");
  }
}

}  // namespace
}  // namespace eyebrow
