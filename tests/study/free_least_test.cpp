// Least gaps over every cam position: against brute force over the motion, and against checks at many single positions.
#include "study/free_least.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "study/disc_engine.hpp"
#include "study/model.hpp"
#include "study/piston_gap.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"

namespace eyebrow::study {
namespace {

Engine with_stops(Engine engine, double latest, double earliest) {
  for (Cam& cam : engine.cams) cam.stops = Stops{latest * kDegree, earliest * kDegree};
  return engine;
}

study::Setup freed(const Setup& setup, const Engine& engine) {
  study::Setup free(setup, engine);
  free.motion = free.motion.with(between_stops(engine));
  return free;
}

// A flat crown and upright valves: every gap is the height of the rim over the crown, closed form in the motion.
TEST(FreeLeast, OverAFlatCrownIsTheLeastHeightOfAllPositions) {
  const Engine engine = with_stops(disc_engine(), -12, 17);
  const Parts parts = disc_parts(engine);
  const study::Setup setup(engine, parts);
  for (int valve : {0, 1}) {
    double least = INFINITY;
    for (double advance = -12; advance <= 17; advance += 0.25) {
      const Motion motion(advanced(engine, valve, advance * kDegree));
      for (double crank = -60; crank <= 60; crank += 0.02)
        least = std::min(least, closed_place(engine, engine.valves[static_cast<std::size_t>(valve)]).z -
                                    motion.lift(valve, crank * kDegree) - motion.height(crank * kDegree));
    }
    for (const GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest}) {
      const FreeLeast found = free_least(freed(setup, engine), valve, kind);
      ASSERT_TRUE(found.found);
      EXPECT_NEAR(found.value, least, kMicrometre) << valve << " " << to_string(kind);
      EXPECT_LE(found.proven, found.value);
      EXPECT_GT(found.proven, found.value - 2 * kMicrometre);
      // The intake is worst at its earliest, the exhaust at its latest (common practice).
      EXPECT_NEAR(advance_at(setup, valve, found.crank, found.lift) / kDegree, valve == 0 ? 17 : -12, 0.01);
      const Minimum minimum = least_between_stops(setup, valve, kind);
      EXPECT_NEAR(minimum.gap.value, found.value, kMicrometre);
      EXPECT_NEAR(minimum.lift, found.lift, 0.2);
    }
  }
}

// Without a freedom it is the ordinary least.
TEST(FreeLeast, WithoutFreedomIsTheOrdinaryLeast) {
  const Model of("two_valve_wedge");
  for (const GapKind kind : kGapKinds) {
    const Least least = least_over_cycle(PistonGap(of.setup, 0, kind).over_cycle());
    const FreeLeast found = free_least(of.setup, 0, kind);
    EXPECT_NEAR(found.value, least.value, 0.5 * kMicrometre) << to_string(kind);
    EXPECT_NEAR(found.lift, of.setup.motion.lift(0, found.crank), 1e-9);
  }
}

class Positions : public testing::TestWithParam<const char*> {};

// No single position has less, and the worst of them comes near.
TEST_P(Positions, AreBoundedByTheFreeLeast) {
  const Model of(GetParam());
  const Engine engine = with_stops(of.file.engine, -10, 14);
  const study::Setup setup(of.setup, engine);
  const int last = static_cast<int>(setup.valves.size()) - 1;
  int compared = 0;
  for (const int valve : {0, last})
    for (const GapKind kind : kGapKinds) {
      const FreeLeast found = free_least(freed(setup, engine), valve, kind);
      double least = INFINITY;
      for (double advance = -10; advance <= 14; advance += 2) {
        const Engine there = advanced(engine, valve, advance * kDegree);
        const study::Setup at(setup, there);
        const Least single = least_over_cycle(PistonGap(at, valve, kind).over_cycle());
        if (!single.found) continue;
        EXPECT_GE(single.value, found.value - kMicrometre) << to_string(kind) << " at " << advance;
        least = std::min(least, single.value);
      }
      ASSERT_EQ(found.found, std::isfinite(least)) << to_string(kind);
      if (!found.found) continue;
      // Two degrees of advance are 0.25 mm of travel at most; the least is at a stop or between two of these.
      EXPECT_LE(least, found.value + 0.02) << to_string(kind) << " of valve " << valve;
      ++compared;
    }
  EXPECT_GE(compared, 6);
}

INSTANTIATE_TEST_SUITE_P(Models, Positions, testing::Values("two_valve_wedge", "four_valve_pent_roof"));

}  // namespace
}  // namespace eyebrow::study
