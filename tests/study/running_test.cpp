// What running takes, over a flat crown where it is closed form.
#include "study/running.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "eyebrow/motion.hpp"
#include "study/bore.hpp"
#include "study/disc_engine.hpp"
#include "study/model.hpp"
#include "study/piston_gap.hpp"
#include "study/place.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"
#include "study/running_others.hpp"

namespace eyebrow::study {
namespace {

Allowance blank(const char* name) {
  Allowance made;
  made.name = name;
  made.early = made.late = made.lift = made.sideways = {0, 0};
  return made;
}

class RunningTest : public testing::Test {
 protected:
  RunningTest() : engine(disc_engine()), parts(disc_parts(engine)), setup(engine, parts) {
    bench =
        piston_minimum(setup, 0, GapKind::travel, least_over_cycle(PistonGap(setup, 0, GapKind::travel).over_cycle()));
  }
  double taken(const Allowance& by) const {
    const RunningLeast found = running_least(setup, {by}, 0, GapKind::travel, bench, bench.gap.value);
    EXPECT_NEAR(found.taken.at(by.name), bench.gap.value - found.value, 1e-9);
    return bench.gap.value - found.value;
  }
  /// Least height of the rim over the crown with the lift of `lift(crank)`, by brute force.
  template <typename Lift>
  double least_height(const Lift& lift) const {
    double least = INFINITY;
    for (double crank = -60; crank <= 60; crank += 0.01)
      least = std::min(least, closed_place(engine, engine.valves[0]).z - lift(crank * kDegree) -
                                  setup.motion.height(crank * kDegree));
    return least;
  }
  Engine engine;
  Parts parts;
  study::Setup setup;
  Minimum bench;
};

TEST_F(RunningTest, APistonThatStandsHigherAndAThinnerGasketTakeJustThat) {
  Allowance stretch = blank("rod stretch"), gasket = blank("thinner gasket");
  stretch.piston_up = 0.13;
  gasket.gasket = 0.07;
  EXPECT_NEAR(taken(stretch), 0.13, kMicrometre);
  EXPECT_NEAR(taken(gasket), 0.07, kMicrometre);
  const RunningLeast both = running_least(setup, {stretch, gasket}, 0, GapKind::travel, bench, bench.gap.value);
  EXPECT_NEAR(both.value, bench.gap.value - 0.2, kMicrometre);
}

TEST_F(RunningTest, MoreLiftAndLateOrEarlyTiming) {
  Allowance lift = blank("loft"), late = blank("slack");
  lift.lift = {0.3, 0};
  EXPECT_NEAR(taken(lift), 0.3, kMicrometre);
  // An intake that runs late is further from the piston at its tightest: nothing is taken, nothing credited.
  late.late = {3 * kDegree, 3 * kDegree};
  EXPECT_NEAR(taken(late), 0, kMicrometre);
  Allowance early = blank("early");
  early.early = {3 * kDegree, 0};
  const double least = least_height([&](double crank) { return setup.motion.lift(0, crank + 3 * kDegree); });
  EXPECT_NEAR(taken(early), bench.gap.value - least, kMicrometre);
  EXPECT_GT(taken(early), 0.1);
}

TEST_F(RunningTest, RimPlaySideways) {
  // Over a flat crown it changes nothing.
  Allowance play = blank("guide play");
  play.sideways = {0.2, 0.2};
  EXPECT_NEAR(taken(play), 0, kMicrometre);
}

TEST_F(RunningTest, APistonThatLeansOnItsPin) {
  // Closed form: crown flat and upright valve, lean a about a pin that is p below the flat. The flat's normal leans by
  // a, and the rim's lowest point over it, R out toward x, has lost R sin a + h (1 - cos a) + ..., travel counts along
  // the axis.
  Allowance rock = blank("piston rock");
  rock.rock = 0.004;
  rock.pin_below_crown = 32;
  const double radius = parts.profiles[0].rim_radius, a = rock.rock;
  // In the crown's frame: the rim centre stands at pin + turned(0, y, p + height); the rim drops R sin a toward x;
  // along the valve's axis, which leans by a, a height z over the flat is z / cos a.
  const double height = bench.gap.value;
  const double expected = height - ((32 + height) * std::cos(a) - 32 - radius * std::sin(a)) / std::cos(a);
  EXPECT_NEAR(taken(rock), expected, 2 * kMicrometre);
  EXPECT_NEAR(expected, radius * a, 0.001);
}

TEST_F(RunningTest, NothingIsCreditedAndWhatIsOffIsNotCounted) {
  Allowance off = blank("off");
  off.piston_up = 1;
  off.on = false;
  const RunningLeast found = running_least(setup, {off}, 0, GapKind::travel, bench, bench.gap.value);
  EXPECT_NEAR(found.value, bench.gap.value, kMicrometre);
  EXPECT_LE(found.value, bench.gap.value);
  EXPECT_TRUE(found.taken.empty());
}

TEST_F(RunningTest, PistonToHeadLosesWhatLiftsThePistonAndItsEdge) {
  Allowance stretch = blank("rod stretch"), gasket = blank("thinner gasket"), rock = blank("rock"), off = blank("off");
  stretch.piston_up = 0.2;
  gasket.gasket = 0.05;
  rock.rock = 0.002;
  off.piston_up = 1;
  off.on = false;
  // Closed form: the edge, half a bore from the pin, rises by that times the lean.
  EXPECT_NEAR(running_head(engine, {stretch, gasket, rock, off}, 1.0), 0.75 - 0.001 * engine.cylinder.bore, 1e-6);
}

TEST_F(RunningTest, UprightValvesLoseToEachOtherAndTheBoreOnlyWhatTheirRimsStandOff) {
  Allowance play = blank("guide play"), loft = blank("loft");
  play.sideways = {0.04, 0.03};
  loft.lift = {0.5, 0.5};
  const std::vector<ValvePair> pairs = valve_pairs(setup);
  ASSERT_EQ(pairs.size(), 1u);
  const double apart = pair_result(setup, pairs[0]).minimum.gap.value;
  EXPECT_NEAR(running_pair(setup, {loft}, pairs[0], apart), apart, kMicrometre);
  EXPECT_NEAR(running_pair(setup, {loft, play}, pairs[0], apart), apart - 0.07, kMicrometre);
  for (const int valve : {0, 1}) {
    const double bench_bore = bore_minimum(setup, valve).gap.value;
    EXPECT_NEAR(running_bore(setup, {loft}, valve, bench_bore), bench_bore, kMicrometre);
    EXPECT_NEAR(running_bore(setup, {loft, play}, valve, bench_bore), bench_bore - (valve == 0 ? 0.04 : 0.03),
                kMicrometre);
  }
}

// Valves that lean apart come nearer as they open: the greatest lifts decide, and are shown to.
TEST(RunningPair, ValvesThatLeanApartAreNearestAtTheGreatestLifts) {
  const Model of("four_valve_pent_roof_phased");
  const study::Setup& setup = of.setup;
  const Motion motion = setup.motion.with(between_stops(setup.engine));
  for (const ValvePair& pair : valve_pairs(setup)) {
    const Least least = pair_least(setup, motion, pair);
    EXPECT_LE(least.proven, least.value);
    EXPECT_GT(least.proven, least.value - 2 * kMicrometre) << pair.first() << ' ' << pair.second();
    // Brute force over positions of both cams.
    std::mt19937 random(5);
    std::uniform_real_distribution<double> part(0, 1), crank(-60 * kDegree, 60 * kDegree);
    double brute = INFINITY;
    for (int i = 0; i < 3000; ++i) {
      const double at = crank(random);
      const LiftRange a = motion.lifts(pair.first(), at), b = motion.lifts(pair.second(), at);
      const double first = a.least + (a.greatest - a.least) * std::min(1.0, 1.5 * part(random));
      const double second = b.least + (b.greatest - b.least) * std::min(1.0, 1.5 * part(random));
      brute = std::min(brute, pair.gap(first, second, false).value);
    }
    EXPECT_GE(brute, least.proven);
    EXPECT_LT(brute, least.value + 0.3) << "or the brute force never comes near";
  }
}

}  // namespace
}  // namespace eyebrow::study
