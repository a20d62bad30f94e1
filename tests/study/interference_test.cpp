// What a contact asks for: closed form over a flat crown, and the example engines made to touch.
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/check.hpp"
#include "eyebrow/spec.hpp"
#include "study/asked.hpp"
#include "study/disc_engine.hpp"

namespace eyebrow::study {
namespace {

/// The plain engine with its intake's rim so low that it goes `depth` into the crown flat at the worst crank angle.
Engine pushed(double depth) {
  Engine engine = disc_engine();
  const CheckResult before = run_check(engine, disc_parts(engine), stepping(10 * kDegree));
  engine.valves[0].rim_height -= before.valves[0].minimum.at(GapKind::travel).gap.value + depth;
  return engine;
}

CheckResult checked(const Engine& engine) {
  return run_check(engine, disc_parts(engine), stepping(10 * kDegree));
}

TEST(Interference, LevelDiscInAFlatCrown) {
  for (const double depth : {0.3, 1.0}) {
    const Engine engine = pushed(depth);
    const CheckResult result = checked(engine);
    const double radius = engine.valves[0].head_diameter / 2;
    ASSERT_TRUE(result.valves[0].interference.has_value());
    const Interference& found = *result.valves[0].interference;
    const Minimum& travel = result.valves[0].minimum.at(GapKind::travel);
    EXPECT_EQ(result.verdict, Verdict::contact);
    EXPECT_NEAR(found.withdraw, depth, kMicrometre);
    EXPECT_EQ(found.withdraw, -travel.gap.value);
    EXPECT_EQ(found.crank, travel.crank);
    EXPECT_TRUE(std::isnan(found.deepen)) << "there is no pocket to deepen";
    EXPECT_TRUE(std::isnan(found.widen));
    // Closed form: a disc's volume, pi R^2 g, whose centre lies on the valve's axis half way up.
    const double expected = kPi * radius * radius * found.withdraw;
    EXPECT_LE(std::fabs(found.volume - expected), found.volume_error);
    EXPECT_LT(found.volume_error, 0.01 * expected);
    EXPECT_NEAR(found.place.x, 0, 0.01);
    EXPECT_NEAR(found.place.y, 20, 0.01);
    EXPECT_NEAR(found.place.z, -travel.piston_depth - depth / 2, 2 * kMicrometre);
    EXPECT_LT(found.from_centre, 0.02);
    EXPECT_FALSE(result.valves[1].interference.has_value());
  }
}

TEST(Interference, NoneWithoutContact) {
  const CheckResult result = checked(pushed(-0.01));
  EXPECT_NE(result.verdict, Verdict::contact);
  for (const ValveResult& valve : result.valves) EXPECT_FALSE(valve.interference.has_value());
}

struct Overlap {
  Engine engine;
  CheckResult result;
};
Overlap big_valve(const std::string& setting) {
  const EngineFile file = read_engine(EYEBROW_MODELS "/inline_six_big_valve.toml", {parse_override(setting)});
  return {file.engine, run_check(file.engine, build_parts(file.engine, file.origins), stepping(10 * kDegree))};
}

// The intake stands in its floor. Deepened by what is told, the travel to that floor is none: the check by doing it.
TEST(Interference, ADeeperPocketEndsTheContactWithItsFloor) {
  const Overlap early = big_valve("cam.advance=24");
  ASSERT_TRUE(early.result.valves[0].interference.has_value());
  const Interference& found = *early.result.valves[0].interference;
  EXPECT_TRUE(std::isnan(found.widen));
  EXPECT_GT(found.volume, 100 * found.volume_error);
  Engine deeper = early.engine;
  Pocket& pocket = deeper.piston.pockets[0];
  pocket.depth += found.deepen * std::cos(pocket.tilt);  // along its axis; depth is measured square to the crown flat
  const CheckResult after = run_check(deeper, build_parts(deeper, {}), stepping(10 * kDegree));
  const Minimum& travel = after.valves[0].minimum.at(GapKind::travel);
  EXPECT_NEAR(study::judged(after.valves[0], GapKind::travel), 0, 2 * kMicrometre) << travel.face_other;
}

// Moved so far sideways that its rim stands in the crown beside the pocket: the wall is hit, the floor is not.
TEST(Interference, AWallAsksForAWiderPocket) {
  const CheckResult result = big_valve("pocket.intake.diameter=1.75").result;
  ASSERT_TRUE(result.valves[0].interference.has_value());
  const Interference& found = *result.valves[0].interference;
  EXPECT_TRUE(std::isnan(found.deepen));
  EXPECT_EQ(found.widen, -study::judged(result.valves[0], GapKind::radial));
  EXPECT_GT(found.volume, 0);
  EXPECT_LT(found.volume_error, 0.05 * found.volume);
  // The overlap is a crescent at the rim.
  EXPECT_GT(found.from_centre, 0.9 * 0.92 * kInch);
  EXPECT_LT(found.from_centre, 0.92 * kInch);
}

// The volume is doubted in public.
TEST(Interference, ADoubtfulVolumeIsAWarning) {
  const Engine engine = pushed(1);
  Engine smaller = engine;
  smaller.valves[0].head_diameter -= 2;
  Parts parts = build_parts(engine, {});
  parts.solids = build_parts(smaller, {}).solids;
  const CheckResult result = run_check(engine, parts, stepping(10 * kDegree));
  ASSERT_TRUE(result.valves[0].interference.has_value());
  bool told = false;
  for (const Fault& warning : result.warnings) told |= warning.message.find("by the modeller") != std::string::npos;
  EXPECT_TRUE(told);
}

}  // namespace
}  // namespace eyebrow::study
