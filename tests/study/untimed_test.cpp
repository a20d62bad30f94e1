// Timing that is lost: closed forms over a flat crown, and checks of engines whose cams are out.
#include "eyebrow/untimed.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "eyebrow/motion.hpp"
#include "eyebrow/timing.hpp"
#include "study/any_lifts.hpp"
#include "study/disc_engine.hpp"
#include "study/model.hpp"

namespace eyebrow::study {
namespace {

constexpr double kTenthOfADegree = 0.1 * kDegree;

/// Over a flat crown an upright valve comes to it when it is open by its height over the crown flat.
double lift_at_contact(const Engine& engine, std::size_t valve, double height) {
  return closed_place(engine, engine.valves[valve]).z - height;
}

/// The least of that less the lift over the cycle, with a cam out by so much: by the motion alone.
double least_spare(Engine engine, std::size_t valve, double out) {
  for (Cam& cam : engine.cams) cam.advance += out;
  const Motion motion(engine);
  double least = INFINITY;
  for (int i = -7200; i <= 7200; ++i) {
    const double crank = i * 0.05 * kDegree;
    least = std::min(
        least, lift_at_contact(engine, valve, motion.height(crank)) - motion.lift(static_cast<int>(valve), crank));
  }
  return least;
}

// Closed form: at TDC the crown flat lies 1.2 under the head, so that the intake (closed 5 above it, 10 of lift) comes
// to it when open by 6.2.
TEST(Untimed, OverAFlatCrownTheValveIsFreeUpToItsHeight) {
  const Engine engine = disc_engine();
  const UntimedResult result = run_untimed(engine, disc_parts(engine));
  ASSERT_EQ(result.valves.size(), 2u);
  EXPECT_FALSE(result.clears);
  for (std::size_t v = 0; v < 2; ++v) {
    const UntimedValve& valve = result.valves[v];
    EXPECT_TRUE(valve.meets);
    EXPECT_FALSE(valve.clears);
    EXPECT_NEAR(valve.greatest_lift, v == 0 ? 10 : 9.5, 1e-9);
    EXPECT_NEAR(valve.free_lift, 6.2, kMicrometre);
    EXPECT_LE(valve.free_low, valve.free_lift);
    EXPECT_GT(valve.free_low, valve.free_lift - 2 * kMicrometre);
    EXPECT_TRUE(valve.at_tdc);
    EXPECT_EQ(valve.face_other, "crown flat");
    // Loft: what the lobe leaves of that where least is left.
    EXPECT_NEAR(valve.loft, least_spare(engine, v, 0), kMicrometre);
  }
}

TEST(Untimed, ARoomyEngineIsFreeRunning) {
  Engine engine = disc_engine();
  for (Valve& valve : engine.valves) valve.rim_height = 12;
  engine.cams[0].teeth = 36;
  const UntimedResult result = run_untimed(engine, disc_parts(engine));
  EXPECT_TRUE(result.clears);
  EXPECT_NEAR(result.valves[0].free_lift - result.valves[0].greatest_lift, 3.2, kMicrometre);
  EXPECT_NEAR(result.valves[0].closest, 3.2, kMicrometre) << "square to a flat the nearest is along the axis";
  ASSERT_EQ(result.cams.size(), 1u) << "one cam is not told again as all of them";
  for (const OutOfTime& end : {result.cams[0].early, result.cams[0].late, result.valves[1].early}) {
    EXPECT_TRUE(end.all_round);
    EXPECT_FALSE(end.teeth.has_value());
  }
}

// The motion alone tells where contact begins; and it is told to a tenth of a degree.
TEST(Untimed, DegreesEndWhereTheMotionComesToTheCrown) {
  const Engine engine = disc_engine();
  const UntimedResult result = run_untimed(engine, disc_parts(engine));
  for (std::size_t v = 0; v < 2; ++v)
    for (const int way : {1, -1}) {
      const OutOfTime& end = way > 0 ? result.valves[v].early : result.valves[v].late;
      ASSERT_FALSE(end.all_round);
      ASSERT_FALSE(end.now);
      EXPECT_GE(least_spare(engine, v, way * end.by), 0);
      EXPECT_LT(least_spare(engine, v, way * (end.by + kTenthOfADegree)), 0);
      EXPECT_EQ(end.gap, engine.valves[v].name + ".travel");
    }
  // The cam ends where the first of its valves does.
  const UntimedCam& cam = result.cams.front();
  EXPECT_EQ(cam.early.by, std::min(result.valves[0].early.by, result.valves[1].early.by));
  EXPECT_EQ(cam.late.by, std::min(result.valves[0].late.by, result.valves[1].late.by));
  EXPECT_EQ(cam.early.gap, "intake.travel") << "an earlier intake meets the piston first";
  EXPECT_EQ(cam.late.gap, "exhaust.travel");
}

CheckResult cam_out(const Engine& engine, const Parts& parts, double by) {
  Engine out = engine;
  for (Cam& cam : out.cams) cam.advance += by;
  return run_check(out, parts, stepping(10 * kDegree));
}

// One tooth inside clears, the next touches, by checks of engines whose cam is out by whole teeth.
TEST(Untimed, WholeTeethBracketTheContact) {
  Engine engine = disc_engine();
  engine.cams[0].teeth = 120;  // 6 crank degrees a tooth: several before contact
  const Parts parts = disc_parts(engine);
  const UntimedResult result = run_untimed(engine, parts);
  const double tooth = one_tooth(120);
  for (const int way : {1, -1}) {
    const OutOfTime& end = way > 0 ? result.cams[0].early : result.cams[0].late;
    ASSERT_TRUE(end.teeth.has_value());
    EXPECT_GE(*end.teeth, 1);
    EXPECT_NE(cam_out(engine, parts, way * *end.teeth * tooth).verdict, Verdict::contact);
    EXPECT_EQ(cam_out(engine, parts, way * (*end.teeth + 1) * tooth).verdict, Verdict::contact);
  }
}

TEST(Untimed, WhatTouchesInTimeIsToldSo) {
  Engine engine = disc_engine();
  engine.cams[0].advance = 60 * kDegree;
  const UntimedResult result = run_untimed(engine, disc_parts(engine));
  EXPECT_TRUE(result.valves[0].early.now);
  EXPECT_TRUE(result.cams[0].late.now);
  EXPECT_EQ(result.cams[0].late.by, 0);
  EXPECT_LT(result.valves[0].loft, 0);
}

// Stops go with the cam: between them every position counts.
TEST(Untimed, APhasersStopsTakeFromBothWays) {
  Engine engine = disc_engine();
  const UntimedResult fixed = run_untimed(engine, disc_parts(engine));
  engine.cams[0].stops = Stops{-3 * kDegree, 5 * kDegree};
  const UntimedResult phased = run_untimed(engine, disc_parts(engine));
  EXPECT_NEAR(fixed.cams[0].early.by - phased.cams[0].early.by, 5 * kDegree, 1.01 * kTenthOfADegree);
  EXPECT_NEAR(fixed.cams[0].late.by - phased.cams[0].late.by, 3 * kDegree, 1.01 * kTenthOfADegree);
}

// A lobe read in crank angles, its peak beside the middle of its flanks: still the whole of its lift counts at every
// height, and the way ends where the motion comes to the crown.
TEST(Untimed, ALobeReadInCrankAnglesIsNoOther) {
  Engine engine = disc_engine();
  Lobe& lobe = engine.lobes[0];
  lobe.law.reset();
  LiftTable table;
  table.about_centre = false;
  for (int degrees = -40; degrees <= 260; degrees += 4) {
    // Rises over 140 degrees, falls over 160.
    const double share = degrees < 100 ? (degrees + 40) / 140.0 : (260 - degrees) / 160.0;
    table.angle.push_back(degrees * kDegree);
    table.lift.push_back(10 * share * share * share * (10 - 15 * share + 6 * share * share));
  }
  lobe.table = table;
  const UntimedResult result = run_untimed(engine, disc_parts(engine));
  EXPECT_NEAR(result.valves[0].greatest_lift, Motion(engine).greatest_lift(0), 1e-9);
  EXPECT_NEAR(result.valves[0].free_lift, 6.2, kMicrometre);
  for (const int way : {1, -1}) {
    const OutOfTime& end = way > 0 ? result.valves[0].early : result.valves[0].late;
    ASSERT_FALSE(end.all_round || end.now);
    EXPECT_GE(least_spare(engine, 0, way * end.by), 0);
    EXPECT_LT(least_spare(engine, 0, way * (end.by + kTenthOfADegree)), 0);
  }
}

/// Two valves on cams of their own whose stems lean apart: opened, their heads run into each other.
Engine canted_twin_cam() {
  Engine engine = disc_engine();
  engine.cams = {{"in", 0}, {"out", 0}};
  engine.lobes[0].cam = "in";
  engine.lobes[1].cam = "out";
  engine.valves[0].tilt = engine.valves[1].tilt = 35 * kDegree;
  engine.valves[0].y = 18.5;
  engine.valves[1].y = -20.5;
  engine.lobes[0].lift = 14;
  engine.lobes[1].lift = 13.5;
  engine.valves[0].lean = kPi / 2;
  engine.valves[1].lean = -kPi / 2;
  engine.valves[0].rim_height = engine.valves[1].rim_height = 14;
  return engine;
}

TEST(Untimed, ValvesOnTwoCamsAreTriedAtAnyTwoLifts) {
  const Engine engine = canted_twin_cam();
  const Parts parts = disc_parts(engine);
  const study::Setup setup(engine, parts);
  const std::vector<ValvePair> pairs = valve_pairs(setup);
  // Samples on a grid of lifts have no less; and the least is some sample's neighbour (the gap is 1-Lipschitz).
  const double most = 8;
  const AnyLiftsLeast least =
      least_at_any_lifts(pairs[0], setup.valves[0].place.up, setup.valves[1].place.up, most, most);
  double grid = INFINITY;
  constexpr int kGrid = 32;
  for (int i = 0; i <= kGrid; ++i)
    for (int k = 0; k <= kGrid; ++k)
      grid = std::min(grid, pairs[0].gap(most * i / kGrid, most * k / kGrid, false).value);
  ASSERT_GT(grid, 0) << "a pair that is clear so far";
  EXPECT_LE(least.value, grid + kMicrometre);
  EXPECT_GE(least.value, grid - most / kGrid);
  EXPECT_LE(least.proven, least.value);
  EXPECT_GT(least.proven, least.value - 2 * kMicrometre);

  const UntimedResult result = run_untimed(engine, parts);
  ASSERT_EQ(result.pairs.size(), 1u);
  EXPECT_FALSE(result.pairs[0].one_cam);
  EXPECT_FALSE(result.pairs[0].clears);
  EXPECT_LT(pairs[0].gap(result.pairs[0].lift, result.pairs[0].lift2, false).value, 0) << "they do touch there";
  ASSERT_EQ(result.cams.size(), 3u);
  EXPECT_EQ(result.cams[2].name, "") << "both together";
  EXPECT_FALSE(result.clears);
}

TEST(Untimed, AValveThatMeetsAnotherEndsItsCamsWay) {
  Engine engine = canted_twin_cam();
  for (Valve& valve : engine.valves) valve.rim_height = 25;  // no piston in the way
  const Parts parts = disc_parts(engine);
  const UntimedResult result = run_untimed(engine, parts);
  EXPECT_TRUE(result.valves[0].clears && result.valves[1].clears);
  EXPECT_FALSE(result.clears);
  const OutOfTime& early = result.cams[0].early;
  ASSERT_FALSE(early.all_round);
  ASSERT_FALSE(early.now);
  EXPECT_EQ(early.gap, "intake/exhaust");
  const auto out = [&](double by) {
    Engine moved = engine;
    moved.cams[0].advance += by;
    return run_check(moved, parts, stepping(10 * kDegree)).pairs[0].minimum.gap.value;
  };
  EXPECT_GE(out(early.by), 0);
  EXPECT_LT(out(early.by + kTenthOfADegree), 0);
  EXPECT_TRUE(result.cams[2].early.all_round && result.cams[2].late.all_round)
      << "both together: to each other they stay in time";
  // Loft of both: by the pair itself, at the greatest lifts.
  const UntimedPair& pair = result.pairs[0];
  ASSERT_FALSE(std::isnan(pair.loft));
  const study::Setup setup(engine, parts);
  const auto gap_with = [&](double loft) {
    double least = INFINITY;
    const ValvePair of = valve_pairs(setup).front();
    for (int degrees = -60; degrees <= 60; ++degrees) {
      const double crank = degrees * kDegree;
      least =
          std::min(least, of.gap(setup.motion.lift(0, crank) + loft, setup.motion.lift(1, crank) + loft, false).value);
    }
    return least;
  };
  EXPECT_GE(gap_with(pair.loft), 0);
  EXPECT_LT(gap_with(pair.loft + 0.05), 0);
}

}  // namespace
}  // namespace eyebrow::study
