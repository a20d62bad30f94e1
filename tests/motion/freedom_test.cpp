// Every lift that a freedom allows, against brute force over single choices.
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/motion.hpp"
#include "motion/example_lobes.hpp"

namespace eyebrow {
namespace {

Engine wedge(bool running) {
  Engine engine;
  engine.cylinder.stroke = 88.4;
  engine.cylinder.rod_length = 152.4;
  engine.running_lash = running;
  engine.cams.push_back({"cam", 0});
  engine.lobes = {examples::wedge_intake(), examples::wedge_exhaust()};
  for (const char* name : {"intake", "exhaust"}) {
    Valve valve;
    valve.name = valve.lobe = name;
    valve.rocker_ratio = 1.6;
    valve.lash = 0.45;
    engine.valves.push_back(valve);
  }
  return engine;
}

TEST(Freedom, LiftsAreThoseOfEveryTimingBetween) {
  for (const bool running : {false, true}) {
    const Motion motion(wedge(running));
    Freedom freedom;
    freedom.valves = {{25 * kDegree, 10 * kDegree, 0, false}, {0, 40 * kDegree, 0.3, false}};
    const Motion free = motion.with(freedom);
    for (int valve : {0, 1}) {
      const Freedom::OfValve& of = freedom.valves[static_cast<std::size_t>(valve)];
      for (double crank = -360; crank <= 360; crank += 0.37) {
        LiftRange seen{INFINITY, -INFINITY};
        for (int i = 0; i <= 500; ++i) {
          const double lift = motion.lift(valve, crank * kDegree - of.late + (of.early + of.late) * i / 500);
          seen = {std::min(seen.least, lift), std::max(seen.greatest, lift)};
        }
        const LiftRange lifts = free.lifts(valve, crank * kDegree);
        EXPECT_LE(lifts.least, seen.least + 1e-12);
        EXPECT_GE(lifts.least, seen.least - 0.02) << crank;  // between samples a tenth of a degree apart
        EXPECT_GE(lifts.greatest, seen.greatest + of.lift - 1e-12);
        EXPECT_LE(lifts.greatest, seen.greatest + of.lift + 0.02) << crank;
        EXPECT_EQ(free.lift(valve, crank * kDegree), motion.lift(valve, crank * kDegree));
      }
    }
  }
}

TEST(Freedom, TheCardsBandHoldsItsMiddle) {
  const Motion motion(wedge(false));
  Freedom freedom;
  freedom.valves = {{0, 0, 0, true}, {5 * kDegree, 5 * kDegree, 0, true}};
  const Motion free = motion.with(freedom);
  double widest = 0;
  for (double crank = -360; crank <= 360; crank += 0.37)
    for (int valve : {0, 1}) {
      const LiftRange lifts = free.lifts(valve, crank * kDegree);
      const double lift = motion.lift(valve, crank * kDegree);
      EXPECT_LE(lifts.least, lift + 1e-4);
      EXPECT_GE(lifts.greatest, lift - 1e-4);
      if (valve == 0) widest = std::max(widest, lifts.greatest - lifts.least);
    }
  EXPECT_GT(widest, 0.1);
  EXPECT_LT(widest, 0.6);
  EXPECT_TRUE(motion.has_card_band(0));
  for (const CardEnd end : {CardEnd::least, CardEnd::greatest}) {
    const Motion at = motion.at_card_end(end);
    const double lift = at.lift(0, 10 * kDegree);
    const LiftRange lifts = free.lifts(0, 10 * kDegree);
    EXPECT_NEAR(lift, end == CardEnd::least ? lifts.least : lifts.greatest, 1e-12);
  }
}

// A rocker whose ratio rises from 1.4 to 1.7: the valve's lift is the product, at every angle, in the band's ends as
// well.
TEST(Freedom, ARockerTableTakesThePlaceOfTheRatio) {
  Engine engine = wedge(false);
  engine.valves[0].rocker_table = {{1, 1.4}, {5, 1.6}, {10, 1.7}};
  const Motion table(engine);
  const LiftCurve lobe = lift_curve(engine.lobes[0]);
  Freedom freedom;
  freedom.valves = {{0, 0, 0, true}, {}};
  const Motion free = table.with(freedom);
  for (double crank = -150; crank <= 150; crank += 1) {
    const double angle = crank * kDegree, at = table.lobe_centre(0) + angle, low = lobe.lift(angle);
    const double lift = table.lift(0, at);
    if (low <= 1) {
      EXPECT_NEAR(lift, 1.4 * low, 0.001);
    } else {
      EXPECT_GE(lift, 1.4 * low - 0.001);
      EXPECT_LE(lift, 1.7 * low + 0.001);
    }
    EXPECT_LE(free.lifts(0, at).least, lift + 1e-4);
    EXPECT_GE(free.lifts(0, at).greatest, lift - 1e-4);
    EXPECT_LE(table.at_card_end(CardEnd::least).lift(0, at), lift + 1e-4);
  }
  engine.valves[0].rocker_table.clear();
  EXPECT_NE(table.lift(0, 0), table.changed(engine).lift(0, 0));
}

// What Motion promises of the two ends of `lifts` between two angles, and proofs over the cycle rest on.
TEST(Freedom, BendsAndStepsHoldForBothEnds) {
  for (const bool running : {false, true})
    for (const bool card : {false, true}) {
      Freedom freedom;
      freedom.valves = {{25 * kDegree, 10 * kDegree, 0, card}, {0, 40 * kDegree, 0.3, card}};
      const Motion motion = Motion(wedge(running)).with(freedom);
      for (double width : {0.05, 0.5, 5.0, 40.0})
        for (double from = -360; from < 360; from += 0.73) {
          const double a = from * kDegree, b = (from + width) * kDegree, middle = 0.5 * (a + b),
                       square = (b - a) * (b - a);
          for (int valve : {0, 1}) {
            const double bend = motion.lift_bend_bound(valve, a, b) * square / 8 + 1e-12;
            const double step = motion.lift_step_bound(valve, a, b) * (b - a) / 4;
            const LiftRange at_a = motion.lifts(valve, a), at_b = motion.lifts(valve, b),
                            at = motion.lifts(valve, middle);
            EXPECT_LE(at.greatest, 0.5 * (at_a.greatest + at_b.greatest) + bend) << from << " " << width;
            EXPECT_GE(at.least, 0.5 * (at_a.least + at_b.least) - bend - step) << from << " " << width;
          }
        }
    }
}

}  // namespace
}  // namespace eyebrow
