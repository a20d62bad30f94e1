// Where a tilted valve goes when the head is milled, its seat cut or its tilt given in two planes.
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/engine.hpp"

namespace eyebrow {
namespace {

Valve tilted(double tilt_degrees, double lean_degrees) {
  Valve valve;
  valve.x = 5;
  valve.y = -20;
  valve.rim_height = 14;
  valve.tilt = tilt_degrees * kDegree;
  valve.lean = lean_degrees * kDegree;
  return valve;
}

TEST(MillingReference, TwentyThreeDegreesAndTenThousandths) {
  // Closed form: head milled by m, valve axis g from the bore axis. The gap to a floor square to the valve falls
  // m cos g, the travel to a flat crown m / cos g, the valve walks m sin g sideways across that floor: 0.0092, 0.0109
  // and 0.0039 in for 23 degrees and 0.010 in.
  for (double lean : {0.0, 90.0, 137.0, 250.0}) {
    const Valve valve = tilted(23, lean);
    Engine before, after;
    after.head.milled = 0.010 * kInch;
    const Vec3 moved = closed_place(after, valve) - closed_place(before, valve);
    const Vec3 up = up_axis(after, valve);

    const double toward_floor = -dot(moved, up);
    EXPECT_NEAR(toward_floor / kInch, 0.0092, 0.00005);

    // Travel to a flat crown: along the axis from the rim plane's lowest point to a level plane.
    const auto travel = [&](const Engine& engine) { return closed_place(engine, valve).z / up.z; };
    EXPECT_NEAR((travel(before) - travel(after)) / kInch, 0.0109, 0.00005);

    const double sideways = norm(moved + toward_floor * up);
    EXPECT_NEAR(sideways / kInch, 0.0039, 0.00005);

    // Milling moves nothing across the bore.
    EXPECT_EQ(moved.x, 0);
    EXPECT_EQ(moved.y, 0);
  }
}

TEST(MillingReference, ASunkSeatDrawsTheValveAlongItsOwnAxis) {
  // Closed form: sunk by s, the rim-plane centre rises s cos g and walks s sin g toward the stem's lean.
  Valve valve = tilted(15, 30);
  const Engine engine;
  const Vec3 before = closed_place(engine, valve);
  valve.sunk = 0.5;
  const Vec3 moved = closed_place(engine, valve) - before;
  EXPECT_NEAR(moved.z, 0.5 * std::cos(15 * kDegree), 1e-12);
  EXPECT_NEAR(moved.x, 0.5 * std::sin(15 * kDegree) * std::cos(30 * kDegree), 1e-12);
  EXPECT_NEAR(moved.y, 0.5 * std::sin(15 * kDegree) * std::sin(30 * kDegree), 1e-12);
}

TEST(TiltReference, TwoTiltsAtRightAnglesCompound) {
  // Published worked example (compound angle of an inclined valve): two tilts of 2 degrees at right angles make 2.83.
  // Closed form: tan^2 g = tan^2 a + tan^2 b; the axis seen square to either plane leans by that plane's tilt.
  const double compound = std::atan(std::sqrt(2.0) * std::tan(2 * kDegree));
  EXPECT_NEAR(compound / kDegree, 2.83, 0.005);
  const Vec3 up = tilted_axis(compound, 45 * kDegree);
  EXPECT_NEAR(std::atan2(up.x, up.z) / kDegree, 2, 1e-9);
  EXPECT_NEAR(std::atan2(up.y, up.z) / kDegree, 2, 1e-9);
  EXPECT_NEAR(norm(up), 1, 1e-15);
}

TEST(TiltReference, FlushLiftAndRimHeightAgree) {
  // Closed form: h = (flush lift) cos g + R sin g. Rim of the invented wedge engine's intake: 0.180 in flush, 23
  // degrees, head diameter 2.020 in: 0.560 in. Here the other way, from the rim's lowest point walked around.
  Valve valve = tilted(23, 0);
  valve.rim_height = 0.560 * kInch;
  const double radius = 1.010 * kInch;
  const Vec3 up = up_axis(Engine{}, valve);
  const Frame frame = frame_about(closed_place(Engine{}, valve) - (0.180 * kInch) * up, up);
  double lowest = 1e9;
  for (double degrees = 0; degrees < 360; degrees += 0.1) {
    const double a = degrees * kDegree;
    lowest = std::min(lowest, (frame.origin + radius * (std::cos(a) * frame.x + std::sin(a) * frame.y)).z);
  }
  EXPECT_NEAR(lowest / kInch, 0, 0.0005);
}

}  // namespace
}  // namespace eyebrow
