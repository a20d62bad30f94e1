// Crowns of plain boxes on a floor, with what no piston has but a designer's own solid may: metal over a foot, metal
// within the stem. Edges and an error are given, so that the exact ways answer where they can.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "boxes.hpp"
#include "shapes.hpp"

namespace eyebrow {
namespace {

using boxes::floor_with_box;
using shapes::outline;

PoseGaps ask(const Crown& crown, const Profile& valve, Vec3 centre) {
  return ValveToPiston(make_target(crown), valve, {centre, {0, 0, 1}}, -1).gaps({0, 0}, {});
}

// A plate 5 above the floor. What stands over it whole is seen by no foot on the floor; what stands out past it is,
// from straight below; the distance to the plate's top is the closest gap of both. Closed form.
TEST(Boxes, APlateHidesTheFloor) {
  const Crown crown = floor_with_box({-10, -10, 5}, {10, 10, 6});
  const PoseGaps small = ask(crown, outline(6, 1.4), {0.5, 0.3, 9});
  EXPECT_EQ(small.face.status, GapStatus::no_meeting) << small.face.value;
  EXPECT_NEAR(small.closest.value, 3, 1e-4);
  EXPECT_NEAR(small.travel.value, 3, 1e-4);
  const PoseGaps wide = ask(crown, outline(18, 1.4), {0.5, 0.3, 9});
  ASSERT_TRUE(wide.face.measured());
  EXPECT_NEAR(wide.face.value, 9, 1e-3);
  EXPECT_GT(std::max(std::fabs(wide.face.on_other.x), std::fabs(wide.face.on_other.y)), 10 - 1e-3);
  EXPECT_NEAR(wide.travel.value, 3, 1e-4);
}

/// Depth in an outline of straight elements: the distance to the nearest of them.
double depth(const Profile& valve, double r, double w) {
  double least = INFINITY;
  for (const ProfileElement& e : valve.elements) {
    const double ur = e.to.r - e.from.r, uw = e.to.w - e.from.w;
    const double t = std::clamp(((r - e.from.r) * ur + (w - e.from.w) * uw) / (ur * ur + uw * uw), 0.0, 1.0);
    least = std::min(least, std::hypot(r - e.from.r - t * ur, w - e.from.w - t * uw));
  }
  return least;
}

// A post on the valve's axis, through its face up into the stem: there the valve is deeper than its head alone. The
// deepest place of the post's sides, by looking at every hundredth of a millimetre.
TEST(Boxes, APostWithinTheStem) {
  const Profile valve = outline(18, 1.4);
  for (const double up : {2.0, 6.0, 20.0}) {
    SCOPED_TRACE(up);
    const PoseGaps gaps = ask(floor_with_box({-0.5, -0.5, 0.5}, {0.5, 0.5, 9 + up}), valve, {0, 0, 9});
    double deepest = 0;
    for (int i = 0; i <= static_cast<int>(up * 100); ++i) {
      const double w = i * 0.01;
      deepest = std::max(deepest, depth(valve, 0.5, w));                                     // the middle of a side
      if (i == static_cast<int>(up * 100)) deepest = std::max(deepest, depth(valve, 0, w));  // and of the top
    }
    ASSERT_TRUE(gaps.closest.measured());
    EXPECT_NEAR(gaps.closest.value, -deepest, 5e-3);
    EXPECT_LE(gaps.closest.low, -deepest + 1e-9);
  }
}

}  // namespace
}  // namespace eyebrow
