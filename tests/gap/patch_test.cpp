// Where a flat valve face stands off a crown face everywhere the same: the middle of what they share is told. Closed
// forms: areas and centroids of circles and their segments.
#include <gtest/gtest.h>

#include "boxes.hpp"
#include "gap/tolerances.hpp"
#include "shapes.hpp"

namespace eyebrow {
namespace {

using shapes::outline;

constexpr double kSeen = 0.1;  // mm: borders are taken as chords of an arc there

void expect_middle(const PoseGaps& gaps, Vec3 middle, double value, Vec3 up, double within) {
  for (const GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest}) {
    SCOPED_TRACE(to_string(kind));
    const Gap& gap = gaps[kind];
    ASSERT_TRUE(gap.measured());
    EXPECT_NEAR(gap.value, value, 1e-9);
    EXPECT_LT(norm(gap.on_other - middle), within) << gap.on_other.x << ", " << gap.on_other.y;
    EXPECT_LT(norm(gap.on_valve - gap.on_other - value * up), 1e-9);
    EXPECT_EQ(gap.valve_part, 0);
    EXPECT_LE(gap.low, gap.value);
    EXPECT_GE(gap.high, gap.value);
  }
}

/// Distance from a circle's centre to the centroid of what lies beyond a chord `off` from it.
double segment_middle(double radius, double off) {
  const double half = std::sqrt(radius * radius - off * off);
  return 2.0 / 3 * half * half * half / (radius * radius * std::acos(off / radius) - off * half);
}

// A valve over the edge of a plate and over its corner, clear and overlapping.
TEST(Patch, MiddleOverAPlate) {
  const Profile valve = outline(12, 1.4, 0.5);
  const Crown crown = boxes::floor_with_box({-40, -40, 5}, {10, 40, 10});
  for (const double off : {-6.0, 0.0, 5.0, 9.0})
    for (const double gap : {1.25, 0.01, -0.2}) {
      SCOPED_TRACE(off);
      SCOPED_TRACE(gap);
      const ValveToPiston pair(make_target(crown), valve, {{10 + off, 3, 10 + gap}, {0, 0, 1}}, -1);
      GapRequest request;
      request.face = false;
      PoseGaps gaps = pair.gaps({0, 0}, request);
      gaps.face = gaps.travel;  // the plate's top is no foot of a face gap
      expect_middle(gaps, {10 + off - segment_middle(11.5, off), 3, 10}, gap, {0, 0, 1}, 1e-9);
    }
}

// In its pocket, level and tilted: the valve's axis. The floor's circle is polygonal in this crown.
TEST(Patch, MiddleOfAFloor) {
  for (const double tilt : {0.0, 17 * kDegree})
    for (const double gap : {1.2, 0.001, -0.05}) {
      const shapes::TiltedPocket pocket{3, -2, tilt, 0.7, 20, 9};
      const Crown crown = shapes::pocketed(45, pocket);
      const Frame& floor = crown.faces[1].frame;
      const Vec3 foot = floor.origin + 0.6 * floor.x - 0.3 * floor.y;
      const ValveToPiston pair(make_target(crown), outline(18, 1.4), {foot + gap * floor.z, floor.z}, 0);
      expect_middle(pair.gaps({0, 0}, {}), foot, gap, floor.z, 1e-9);
    }
}

// A valve wider than the pocket's mouth, over the crown flat: its axis foot is over the pocket. The valve's disc less
// the mouth's: the centroid is beyond the mouth or not; then the mouth's nearest place is told.
TEST(Patch, MiddleBesideAMouth) {
  const shapes::TiltedPocket pocket{0, 0, 0, 0, 6, 5};
  const Crown crown = shapes::pocketed(60, pocket);
  for (const double aside : {1.0, 3.0, 11.0}) {
    SCOPED_TRACE(aside);
    const ValveToPiston pair(make_target(crown), outline(18, 1.4), {{aside, 0, 2}, {0, 0, 1}}, -1);
    const double middle = aside * 18 * 18 / (18 * 18 - 6 * 6);
    expect_middle(pair.gaps({0, 0}, {}), {std::max(middle, 6.0), 0, 0}, 2, {0, 0, 1}, kSeen);
  }
}

// Nothing is to be told where a face is not flat or not parallel.
TEST(Patch, OtherwiseTheNearestPlace) {
  const Crown crown = boxes::floor_with_box({-40, -40, 5}, {10, 40, 10});
  const Vec3 up = tilted_axis(3 * kDegree, 0);
  const ValveToPiston tilted(make_target(crown), outline(12, 1.4), {{-15, 0, 13}, up}, -1);
  const Vec3 point = tilted.gaps({0, 0}, {}).closest.on_other;
  EXPECT_NEAR(std::hypot(point.x + 15, point.y), 12 * up.z, 1e-6);
  const ValveToPiston domed(make_target(crown), outline(12, 1.4, 0, -1), {{0, 0, 13}, {0, 0, 1}}, -1);
  EXPECT_NEAR(domed.gaps({0, 0}, {}).closest.value, 2, 1e-9);
}

}  // namespace
}  // namespace eyebrow
