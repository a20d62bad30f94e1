// Clock positions worked by hand. Seen from above: x to the right, y up the page.
#include "study/clock.hpp"

#include <gtest/gtest.h>

namespace eyebrow::study {
namespace {

constexpr Vec3 kUpright{0, 0, 1};

TEST(Clock, ValveInFrontOfTheAxis) {
  // The valve at the top of the page: 12 o'clock points down the page, so clockwise goes on to the left.
  const Vec3 centre{0, 20, 3};
  EXPECT_NEAR(spot_of({0, 5, 3}, centre, kUpright).clock, 0, 1e-12);
  EXPECT_NEAR(spot_of({-15, 20, 3}, centre, kUpright).clock, 3, 1e-12);
  EXPECT_NEAR(spot_of({0, 35, 3}, centre, kUpright).clock, 6, 1e-12);
  EXPECT_NEAR(spot_of({15, 20, 3}, centre, kUpright).clock, 9, 1e-12);
  EXPECT_NEAR(spot_of({-7.5, 20 - 7.5, 3}, centre, kUpright).clock, 1.5, 1e-12);
}

TEST(Clock, ValveToTheRightOfTheAxis) {
  // 12 o'clock points left: clockwise goes on up the page.
  const Vec3 centre{18, 0, 3};
  EXPECT_NEAR(spot_of({3, 0, 3}, centre, kUpright).clock, 0, 1e-12);
  EXPECT_NEAR(spot_of({18, 15, 3}, centre, kUpright).clock, 3, 1e-12);
  EXPECT_NEAR(spot_of({33, 0, 3}, centre, kUpright).clock, 6, 1e-12);
  EXPECT_NEAR(spot_of({18, -15, 3}, centre, kUpright).clock, 9, 1e-12);
}

TEST(Clock, StaysBelowTwelve) {
  const Spot spot = spot_of({1e-18, 5, 3}, {0, 20, 3}, kUpright);
  EXPECT_GE(spot.clock, 0);
  EXPECT_LT(spot.clock, 12);
}

TEST(Clock, HeightOfThePointDoesNotMatter) {
  const Vec3 centre{4, -21, 3};
  const Vec3 up = tilted_axis(23 * kDegree, 0);
  const Vec3 rim = centre + 12.0 * unit(cross(up, Vec3{0.3, 1, 0}));
  const Spot at_rim = spot_of(rim, centre, up), higher = spot_of(rim + 5.0 * up, centre, up);
  EXPECT_NEAR(at_rim.clock, higher.clock, 1e-12);
  EXPECT_NEAR(at_rim.from_axis, 12, 1e-12);
  EXPECT_NEAR(higher.from_axis, 12, 1e-12);
}

TEST(Clock, NoneWithoutADirection) {
  EXPECT_TRUE(std::isnan(spot_of({5, 0, 0}, {0, 0, 3}, kUpright).clock));    // a valve on the bore axis
  EXPECT_TRUE(std::isnan(spot_of({0, 20, 1}, {0, 20, 3}, kUpright).clock));  // a point on the valve's axis
  EXPECT_NEAR(spot_of({5, 0, 0}, {0, 0, 3}, kUpright).from_axis, 5, 1e-12);
}

}  // namespace
}  // namespace eyebrow::study
