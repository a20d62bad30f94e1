// Piston and valves of a whole engine.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <thread>

#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"
#include "motion/cam_law.hpp"
#include "motion/example_lobes.hpp"

namespace eyebrow {
namespace {

using ::testing::HasSubstr;

/// Example engine (a): two-valve wedge, as far as it moves.
Engine moving_wedge() {
  Engine engine;
  engine.cylinder.stroke = 3.480 * kInch;
  engine.cylinder.rod_length = 6.000 * kInch;
  engine.gasket.thickness = 0.041 * kInch;
  engine.cams = {{.name = "cam", .advance = 0}};
  engine.lobes = {examples::wedge_intake(), examples::wedge_exhaust()};
  for (Role role : {Role::intake, Role::exhaust}) {
    Valve valve;
    valve.name = valve.lobe = role == Role::intake ? "intake" : "exhaust";
    valve.role = role;
    valve.rocker_ratio = 1.6;
    valve.lash = 0.018 * kInch;
    engine.valves.push_back(valve);
  }
  return engine;
}

TEST(Motion, HeightIsBelowTheHeadByGasketDeckClearanceAndDrop) {
  Engine engine = moving_wedge();
  engine.cylinder.deck_clearance = -0.2;
  const Motion motion(engine);
  EXPECT_NEAR(motion.piston_depth(0), -0.2, 1e-12);
  EXPECT_NEAR(motion.height(0), -(0.041 * kInch - 0.2), 1e-12);
  EXPECT_NEAR(motion.piston_depth(kPi), 3.480 * kInch - 0.2, 1e-9);
  for (double crank = -7; crank < 7; crank += 0.1) {
    EXPECT_NEAR(motion.height(crank), -(0.041 * kInch + motion.piston_depth(crank)), 1e-12);
    EXPECT_NEAR(motion.height(crank), motion.height(crank + 2 * kPi), 1e-9);
  }
}

TEST(Motion, IntakeOpensAfterExhaust) {
  const Motion motion(moving_wedge());
  EXPECT_NEAR(motion.lobe_centre(0) / kDegree, 104, 1e-9);
  EXPECT_NEAR(motion.lobe_centre(1) / kDegree, -110, 1e-9);
  EXPECT_NEAR(motion.lift(0, 104 * kDegree), 0.688 * kInch, 1e-9);
  EXPECT_NEAR(motion.lift(1, -110 * kDegree), 0.672 * kInch, 1e-9);
  // Closed on the compression and firing strokes.
  for (double degrees : {300.0, 360.0, -360.0, -300.0}) {
    EXPECT_EQ(motion.lift(0, degrees * kDegree), 0);
    EXPECT_EQ(motion.lift(1, degrees * kDegree), 0);
  }
}

TEST(Motion, AdvanceIsEarlierForBothLobes) {
  Engine engine = moving_wedge();
  const Motion straight(engine);
  engine.cams[0].advance = 4 * kDegree;
  const Motion advanced(engine);
  EXPECT_NEAR(advanced.lobe_centre(0) / kDegree, 100, 1e-9);
  EXPECT_NEAR(advanced.lobe_centre(1) / kDegree, -114, 1e-9);
  for (double degrees = -360; degrees <= 360; degrees += 1.7) {
    for (int valve : {0, 1}) {
      EXPECT_NEAR(advanced.lift(valve, degrees * kDegree), straight.lift(valve, (degrees + 4) * kDegree), 1e-9);
    }
  }
  // At TDC it opens the intake further and the exhaust less (common practice).
  EXPECT_GT(advanced.lift(0, 0), straight.lift(0, 0));
  EXPECT_LT(advanced.lift(1, 0), straight.lift(1, 0));
}

TEST(Motion, RepeatsEveryTwoTurns) {
  const Motion motion(moving_wedge());
  for (double degrees = -360; degrees <= 360; degrees += 3.3) {
    for (int valve : {0, 1}) {
      EXPECT_NEAR(motion.lift(valve, degrees * kDegree), motion.lift(valve, (degrees + 720) * kDegree), 1e-9);
      EXPECT_NEAR(motion.lift(valve, degrees * kDegree), motion.lift(valve, (degrees - 1440) * kDegree), 1e-9);
    }
  }
  EXPECT_EQ(motion.lift(0, 2 * kPi), motion.lift(0, -2 * kPi));
}

TEST(Motion, ALobeAcrossTheEndsOfTheCycleIsWhole) {
  Engine engine = moving_wedge();
  engine.lobes[0].centre = 350 * kDegree;
  const Motion motion(engine);
  EXPECT_NEAR(motion.lift(0, 350 * kDegree), 0.688 * kInch, 1e-9);
  for (double degrees = 0; degrees <= 170; degrees += 5) {
    EXPECT_NEAR(motion.lift(0, (350 - degrees) * kDegree), motion.lift(0, (-370 + degrees) * kDegree), 1e-9);
  }
  engine.lobes[0].centre = 400 * kDegree;
  EXPECT_NEAR(Motion(engine).lobe_centre(0) / kDegree, -320, 1e-9);
}

TEST(Motion, RunningLashIsTakenFromTheLiftAtTheValve) {
  Engine engine = moving_wedge();
  const Motion bench(engine);
  engine.running_lash = true;
  const Motion running(engine);
  for (double degrees = -360; degrees <= 360; degrees += 1.3) {
    const double crank = degrees * kDegree;
    EXPECT_NEAR(running.lift(0, crank), std::max(0.0, bench.lift(0, crank) - 0.018 * kInch), 1e-12);
    EXPECT_GE(running.lift(0, crank), 0);
  }
}

TEST(Motion, RockerRatioIsForLiftsMeasuredAtTheLobe) {
  Engine engine = moving_wedge();
  engine.lobes[0].measured = LiftAt::valve;
  const Motion motion(engine);
  EXPECT_NEAR(motion.lift(0, 104 * kDegree), 0.430 * kInch, 1e-9);
  EXPECT_NEAR(motion.lift(1, -110 * kDegree), 0.420 * 1.6 * kInch, 1e-9);
}

/// Every 2 degrees of crank, 3-4-5 rise and fall over 250 degrees.
LiftTable table(double peak_degrees, bool about_centre) {
  LiftTable made;
  made.about_centre = about_centre;
  for (int i = -70; i <= 70; ++i) {
    made.angle.push_back((peak_degrees + 2 * i) * kDegree);
    made.lift.push_back(8 * motion::cam_law(CamLaw::poly345, 1 - std::fabs(2.0 * i) / 125).value);
  }
  return made;
}

TEST(Motion, ATableAboutItsCentreIsPlacedByTheLobe) {
  Engine engine = moving_wedge();
  for (Lobe& lobe : engine.lobes) {
    lobe.durations.clear();
    lobe.table = table(12, true);  // read from a zero 12 degrees off: recentred
  }
  engine.cams[0].advance = 3 * kDegree;
  const Motion motion(engine);
  EXPECT_NEAR(motion.lobe_centre(0) / kDegree, 101, 1e-9);
  EXPECT_NEAR(motion.lobe_centre(1) / kDegree, -113, 1e-9);
  EXPECT_NEAR(motion.lift(0, 101 * kDegree), 8 * 1.6, 1e-6);
  EXPECT_NEAR(motion.lift(1, -113 * kDegree), 8 * 1.6, 1e-6);
}

TEST(Motion, ATableWithCrankAnglesIsShiftedByAdvanceOnly) {
  // The lobes' stated centres (104, 110) must not matter. One table is written over 0 ... 720.
  Engine engine = moving_wedge();
  engine.lobes[0].durations.clear();
  engine.lobes[0].table = table(108, false);
  engine.lobes[1].durations.clear();
  engine.lobes[1].table = table(720 - 115, false);
  for (double advance : {0.0, 5.0, -5.0}) {
    engine.cams[0].advance = advance * kDegree;
    const Motion motion(engine);
    EXPECT_NEAR(motion.lobe_centre(0) / kDegree, 108 - advance, 1e-6);
    EXPECT_NEAR(motion.lobe_centre(1) / kDegree, -115 - advance, 1e-6);
    for (double degrees = -130; degrees <= 130; degrees += 2) {
      const double lift = 1.6 * 8 * motion::cam_law(CamLaw::poly345, 1 - std::fabs(degrees) / 125).value;
      EXPECT_NEAR(motion.lift(0, (108 - advance + degrees) * kDegree), lift, 1e-3);
      EXPECT_NEAR(motion.lift(1, (-115 - advance + degrees) * kDegree), lift, 1e-3);
    }
  }
}

TEST(Motion, SpeedBoundsHoldBetweenAnyTwoAngles) {
  for (bool running : {false, true}) {
    Engine engine = moving_wedge();
    engine.running_lash = running;
    engine.cylinder.pin_offset = 1;
    const Motion motion(engine);
    constexpr double kStep = 0.05 * kDegree;
    double fastest[2] = {0, 0};
    for (double crank = -2 * kPi; crank < 2 * kPi; crank += kStep) {
      EXPECT_LE(std::fabs(motion.height(crank + kStep) - motion.height(crank)), kStep * motion.height_speed_bound());
      for (int valve : {0, 1}) {
        const double speed = std::fabs(motion.lift(valve, crank + kStep) - motion.lift(valve, crank)) / kStep;
        EXPECT_LE(speed, motion.lift_speed_bound(valve));
        fastest[valve] = std::max(fastest[valve], speed);
      }
    }
    EXPECT_GT(fastest[0], 0.99 * motion.lift_speed_bound(0));
    EXPECT_GT(fastest[1], 0.99 * motion.lift_speed_bound(1));
  }
}

TEST(Motion, BendAndStepBoundsHoldBetweenAnyTwoAngles) {
  // Taylor: the middle of two angles lies no further from the mean of their values than bend width^2 / 8; below it,
  // upward steps of the velocity add step width / 4.
  for (bool running : {false, true}) {
    Engine engine = moving_wedge();
    engine.running_lash = running;
    engine.cylinder.pin_offset = 1;
    const Motion motion(engine);
    double bent = 0;
    int stepped = 0;
    for (double width : {0.02, 0.5, 10.0, 90.0})
      for (double from = -2 * kPi; from < 2 * kPi; from += 0.37 * kDegree) {
        const double to = from + width * kDegree, middle = 0.5 * (from + to), square = (to - from) * (to - from);
        const double height = 0.5 * (motion.height(from) + motion.height(to)) - motion.height(middle);
        EXPECT_LE(std::fabs(height), motion.height_bend_bound() * square / 8 + 1e-12);
        bent = std::max(bent, std::fabs(height) / square * 8 / motion.height_bend_bound());
        for (int valve : {0, 1}) {
          const double under = 0.5 * (motion.lift(valve, from) + motion.lift(valve, to)) - motion.lift(valve, middle);
          const double bend = motion.lift_bend_bound(valve, from, to) * square / 8 + 1e-12;
          const double step = motion.lift_step_bound(valve, from, to);
          EXPECT_LE(-under, bend) << from / kDegree << " " << width;
          EXPECT_LE(under, bend + step * (to - from) / 4) << from / kDegree << " " << width;
          if (width == 0.02 && step > 0) ++stepped;
        }
      }
    EXPECT_GT(bent, 0.6);
    if (running) {
      EXPECT_GT(stepped, 0);
    }
    // Shut, it neither bends nor steps.
    const double shut = motion.lobe_centre(0) + kPi;
    EXPECT_EQ(motion.lift_bend_bound(0, shut, shut + kDegree), 0);
    EXPECT_EQ(motion.lift_step_bound(0, shut, shut + kDegree), 0);
  }
}

TEST(Motion, LiftsAtOverlapOfTheExampleEngines) {
  // What the durations alone say: the crossing of the TDC angle lies between two checking lifts. Golden values of our
  // own beside them, in inches and mm, to show a change.
  const auto at_tdc = [](const Lobe& lobe) { return lift_curve(lobe).lift(lobe.centre); };
  const auto between_its_neighbours = [&](const Lobe& lobe) {
    const double lift = at_tdc(lobe);
    for (std::size_t i = 0; i < lobe.durations.size(); ++i) {
      const bool open_here = lobe.durations[i].duration / 2 > lobe.centre;
      EXPECT_EQ(lift > lobe.durations[i].lift, open_here) << lobe.name << " " << i;
    }
    return lift;
  };
  EXPECT_NEAR(between_its_neighbours(examples::wedge_intake()) / kInch, 0.1514, 1e-4);
  EXPECT_NEAR(between_its_neighbours(examples::wedge_exhaust()) / kInch, 0.1417, 1e-4);
  EXPECT_NEAR(between_its_neighbours(examples::six_intake()) / kInch, 0.0993, 1e-4);
  EXPECT_NEAR(between_its_neighbours(examples::six_exhaust()) / kInch, 0.0932, 1e-4);
  EXPECT_NEAR(between_its_neighbours(examples::pent_roof_intake()), 1.2435, 1e-3);
  EXPECT_NEAR(between_its_neighbours(examples::pent_roof_exhaust()), 1.4752, 1e-3);
}

TEST(Motion, CheckingLiftsFarAboveTheLiftAtOverlapChangeItWithinTheBand) {
  // As long as one checking lift lies above the lift at TDC the others move it by 0.0015 in at most, and the band of
  // the card that states less holds it.
  for (const Lobe& lobe : examples::all_lobes()) {
    const double lift = lift_curve(lobe).lift(lobe.centre);
    Lobe fewer = lobe;
    while (fewer.durations.size() > 3 && fewer.durations[fewer.durations.size() - 2].lift > lift) {
      fewer.durations.pop_back();
      const LobeCurves curves = lobe_curves(fewer);
      EXPECT_NEAR(curves.middle.lift(lobe.centre), lift, 0.0015 * kInch);
      ASSERT_TRUE(curves.band);
      EXPECT_LE(curves.band->least.lift(lobe.centre), lift);
      EXPECT_GE(curves.band->greatest.lift(lobe.centre), lift);
    }
  }
}

TEST(Motion, ThreadsMayAskAtOnce) {
  const Motion motion(moving_wedge());
  const auto sweep = [&motion] {
    double sum = 0;
    for (int i = -3600; i <= 3600; ++i) sum += motion.lift(0, i * 0.1 * kDegree) + motion.height(i * 0.1 * kDegree);
    return sum;
  };
  double one = 0, two = 0;
  std::thread first([&] { one = sweep(); }), second([&] { two = sweep(); });
  first.join();
  second.join();
  EXPECT_EQ(one, two);
  EXPECT_EQ(one, sweep());
}

TEST(Motion, EveryFaultOfItsLobesIsToldAtOnce) {
  Engine engine = moving_wedge();
  engine.lobes[0].durations[1].duration = 300 * kDegree;
  engine.lobes[1].lift = 0;
  try {
    Motion motion(engine);
    FAIL();
  } catch (const InputError& error) {
    EXPECT_GE(error.faults().size(), 3u);
    EXPECT_THAT(error.what(), HasSubstr("lobe.intake"));
    EXPECT_THAT(error.what(), HasSubstr("lobe.exhaust"));
  }
}

TEST(Motion, NamesThatLeadNowhereAreTold) {
  Engine engine = moving_wedge();
  engine.valves[0].lobe = "inlet";
  engine.lobes[1].cam = "left";
  try {
    Motion motion(engine);
    FAIL();
  } catch (const InputError& error) {
    ASSERT_EQ(error.faults().size(), 2u);
    EXPECT_EQ(error.faults()[0].message, "valve.intake: there is no lobe \"inlet\"");
    EXPECT_EQ(error.faults()[1].message, "lobe.exhaust: there is no cam \"left\"");
  }
  EXPECT_THROW(Motion(moving_wedge()).lift(2, 0), std::out_of_range);
}

TEST(Motion, ChangedIsTheMotionOfThatEngineToTheLastBit) {
  const Motion from(moving_wedge());
  Engine other = moving_wedge();
  other.gasket.thickness += 0.3;
  other.cylinder.stroke += 1;
  other.cams[0].advance = 4 * kDegree;
  other.valves[1].rocker_ratio = 1.7;
  other.running_lash = true;
  Engine lobe = other;
  lobe.lobes[0].lift *= 1.05;
  for (Duration& at : lobe.lobes[0].durations) at.duration += 2 * kDegree;
  for (const Engine& engine : {moving_wedge(), other, lobe}) {
    const Motion anew(engine), changed = from.changed(engine);
    for (double crank = -360; crank <= 360; crank += 7.3) {
      EXPECT_EQ(changed.height(crank * kDegree), anew.height(crank * kDegree));
      for (int valve : {0, 1}) EXPECT_EQ(changed.lift(valve, crank * kDegree), anew.lift(valve, crank * kDegree));
    }
    EXPECT_EQ(changed.lift_speed_bound(0), anew.lift_speed_bound(0));
  }
  EXPECT_NE(from.changed(lobe).lift(0, 1.9), from.changed(other).lift(0, 1.9));
}

}  // namespace
}  // namespace eyebrow
