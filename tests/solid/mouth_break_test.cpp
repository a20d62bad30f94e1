// Edge breaks at pocket mouths.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/surface_checks.hpp"

namespace eyebrow {
namespace {

using test::kCoarse;

double taken_by_break(Engine e, double width) {
  for (Pocket& p : e.piston.pockets) p.mouth_break = 0;
  const double sharp = build_parts(e, {}, kCoarse).crown.volume;
  for (Pocket& p : e.piston.pockets) p.mouth_break = width;
  const Crown broken = build_parts(e, {}, kCoarse).crown;
  EXPECT_EQ(test::open_edges(broken), 0);
  EXPECT_NEAR(test::mesh_volume(broken), broken.volume, broken.error * test::total_area(broken));
  for (const Pocket& p : e.piston.pockets)
    EXPECT_THAT(test::names_of(broken), testing::Contains(p.name + " pocket mouth"));
  return sharp - broken.volume;
}

// Pappus: a triangle b x b / 2, its centroid b / 3 outside the wall.
TEST(MouthBreak, VerticalPocket) {
  Engine e = test::plain();
  e.piston.pockets = {test::pocket("a", 8, 9, 0, 0, 30, 3)};
  for (const double b : {0.2, 1.0}) {
    const double expected = 2 * kPi * (15 + b / 3) * b * b / 2;
    EXPECT_NEAR(taken_by_break(e, b), expected, 1e-6 * expected + 1e-6);
  }
}

// Closed form: measured along the pocket's axis, the ring between r = R and R + b holds height b - (r - R) wherever the
// flat is over it, tilted or not: the same volume as upright.
TEST(MouthBreak, TiltedPocketAllRoundBelowTheFlat) {
  Engine e = test::plain();
  e.piston.pockets = {test::pocket("a", 5, 8, 6, 30, 30, 6)};
  const double expected = 2 * kPi * (15 + 0.5 / 3) * 0.125;
  EXPECT_NEAR(taken_by_break(e, 0.5), expected, 1e-4 * expected);
}

TEST(MouthBreak, PocketsThatOpenThroughTheFlat) {
  const Engine e = test::wedge();
  double whole = 0;
  for (const Pocket& p : e.piston.pockets) whole += 2 * kPi * (p.diameter / 2 + 0.5 / 3) * 0.125;
  const double taken = taken_by_break(e, 0.5);
  EXPECT_LT(taken, whole);  // the wall goes round a part only
  EXPECT_GT(taken, 0.2 * whole);
}

TEST(MouthBreak, WithCornersAcrossTheEdgeAndIntoOneAnother) {
  Engine e = test::plain();
  e.piston.pockets = {test::pocket("a", 4, 28, 10, 0, 30, 4, 1), test::pocket("b", 3, 2, 8, 0, 28, 4)};
  EXPECT_GT(taken_by_break(e, 0.4), 0);
}

TEST(MouthBreak, OnARoofTurnsItsRidges) {
  Engine e = test::pent_roof();
  e.piston.pockets.resize(1);
  for (Valve& v : e.valves) v.pocket = -1;
  const double whole = 2 * kPi * (37.4 / 2 + 0.4 / 3) * 0.08;
  const double taken = taken_by_break(e, 0.4);
  EXPECT_GT(taken, 0.2 * whole);
  EXPECT_LT(taken, whole);
}

TEST(MouthBreak, OnARoundDomeIsRefusedByName) {
  Engine e = test::plain();
  e.piston.round_dome = RoundDome{5, 60, DomeShape::sphere, 0};
  e.piston.pockets = {test::pocket("a", 5, 20, 5, 0, 30, 3)};
  e.piston.pockets[0].mouth_break = 0.3;
  Origins origins;
  origins["pocket.a.mouth_break"] = {"engine.toml", 12, 5, "mm"};
  try {
    build_parts(e, origins, kCoarse);
    FAIL();
  } catch (const InputError& error) {
    ASSERT_EQ(error.faults().size(), 1u);
    EXPECT_EQ(error.faults()[0].line, 12);
    EXPECT_THAT(error.what(), testing::HasSubstr("a pocket"));
  }
}

TEST(MouthBreak, SaysWhatItLeavesSharp) {
  Engine e = test::plain();
  e.piston.top_chamfer = 1;
  e.piston.pockets = {test::pocket("a", 5, 30, 15, 0, 30, 3, 1)};
  e.piston.pockets[0].mouth_break = 0.3;
  const Parts parts = build_parts(e, {}, kCoarse);
  ASSERT_EQ(parts.warnings.size(), 1u);
  EXPECT_THAT(parts.warnings[0].message, testing::HasSubstr("top chamfer"));
}

}  // namespace
}  // namespace eyebrow
