// Motions that are most likely a slip of the reading. The bounds are common practice; what is computed here is closed
// form.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"
#include "motion/example_lobes.hpp"

namespace eyebrow {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

Engine engine_of(const Lobe& intake, const Lobe& exhaust, double ratio) {
  Engine engine;
  engine.cylinder.stroke = 88;
  engine.cylinder.rod_length = 150;
  engine.gasket.thickness = 1;
  engine.cams = {{.name = "cam", .advance = 0}};
  engine.lobes = {intake, exhaust};
  for (const Lobe& lobe : engine.lobes) {
    Valve valve;
    valve.name = valve.lobe = lobe.name;
    valve.role = lobe.role;
    valve.rocker_ratio = ratio;
    engine.valves.push_back(valve);
  }
  return engine;
}

Engine wedge() {
  return engine_of(examples::wedge_intake(), examples::wedge_exhaust(), 1.6);
}

/// Every duration times `times`.
void stretch(Lobe& lobe, double times) {
  for (Duration& at : lobe.durations) at.duration *= times;
}

std::vector<Fault> motion_doubts_of(const Engine& engine) {
  return motion_doubts(engine, Motion(engine));
}

auto tells(const std::string& key, const std::string& piece) {
  return AllOf(Field(&Fault::key, key), Field(&Fault::message, HasSubstr(piece)), Field(&Fault::line, 0));
}

TEST(MotionDoubts, AGoodMotionRaisesNone) {
  EXPECT_THAT(motion_doubts_of(wedge()), IsEmpty());
  EXPECT_THAT(motion_doubts_of(engine_of(examples::six_intake(), examples::six_exhaust(), 1.55)), IsEmpty());
  EXPECT_THAT(motion_doubts_of(engine_of(examples::pent_roof_intake(), examples::pent_roof_exhaust(), 1)), IsEmpty());
}

TEST(MotionDoubts, CamDegreesReadAsCrankDegrees) {
  Engine engine = wedge();
  stretch(engine.lobes[0], 0.5);
  EXPECT_THAT(motion_doubts_of(engine),
              ElementsAre(tells("lobe.intake.durations", "check that its angles are crank degrees")));
  stretch(engine.lobes[1], 0.5);
  EXPECT_THAT(motion_doubts_of(engine), AllOf(Contains(tells("lobe.exhaust.durations", "holds its valve open for 1")),
                                              Contains(tells("lobe.intake", "no valve is open at overlap TDC"))));
}

TEST(MotionDoubts, CrankDegreesDoubled) {
  Engine engine = wedge();
  stretch(engine.lobes[1], 2);
  EXPECT_THAT(motion_doubts_of(engine),
              Contains(tells("lobe.exhaust.durations", "were not doubled from crank degrees")));
}

// A table of the pent-roof's kind, in crank degrees, read as if they were cam degrees: every angle twice.
TEST(MotionDoubts, ATableOfTheWrongDegrees) {
  Engine engine = wedge();
  const LiftCurve curve = lift_curve(engine.lobes[0]);
  for (const double times : {0.5, 1.0, 2.0}) {
    SCOPED_TRACE(times);
    Lobe& lobe = engine.lobes[0];
    lobe.durations.clear();
    lobe.table = LiftTable{};
    for (int degree = -180; degree <= 180; degree += 4) {
      lobe.table->angle.push_back(times * degree * kDegree);
      lobe.table->lift.push_back(curve.lift(degree * kDegree));
    }
    if (times == 1) {
      EXPECT_THAT(motion_doubts_of(engine), IsEmpty());
    } else {
      EXPECT_THAT(motion_doubts_of(engine), Contains(tells("lobe.intake.table_degrees", "holds its valve open for")));
    }
  }
}

// Laws have closed forms: simple harmonic, lift h (1 - cos(2 pi x)) / 2 over the duration, is above h / 8 for
// 1 - acos(3/4) / pi of it, so that 170 crank degrees above h / 8 are 220.6 of duration.
TEST(MotionDoubts, TheOpenTimeOfALawIsItsClosedForm) {
  const double share = 1 - std::acos(0.75) / kPi;
  for (const double open : {169.0, 171.0}) {
    Engine engine = wedge();
    Lobe& lobe = engine.lobes[0];
    lobe.durations.clear();
    lobe.law = CamLaw::harmonic;
    lobe.law_duration = open / share * kDegree;
    lobe.lift = 2;  // an eighth of it is less than 0.050 in at the valve
    engine.valves[0].rocker_ratio = 1;
    if (open < 170) {
      EXPECT_THAT(motion_doubts_of(engine), Contains(tells("lobe.intake.law_duration", "open for 169 crank degrees")));
    } else {
      EXPECT_THAT(motion_doubts_of(engine), IsEmpty());
    }
  }
}

TEST(MotionDoubts, ACentreInCamDegrees) {
  Engine engine = wedge();
  engine.lobes[1].centre /= 2;
  EXPECT_THAT(motion_doubts_of(engine),
              Contains(tells("lobe.exhaust.centre", "has its centre at 55 crank degrees before overlap TDC")));
  engine = wedge();
  engine.cams[0].advance = 30 * kDegree;  // moved, but its unmoved centre is usual
  EXPECT_THAT(motion_doubts_of(engine), ::testing::Not(Contains(Field(&Fault::message, HasSubstr("has its centre")))));
}

TEST(MotionDoubts, ALiftNearTdcThatWasNotMeasured) {
  Engine engine = wedge();
  EXPECT_THAT(motion_doubts_of(engine), IsEmpty()) << "0.300 in at the lobe is reached 41 degrees from TDC";
  engine.lobes[0].durations.resize(2);  // 0.020 and 0.050 in
  EXPECT_THAT(motion_doubts_of(engine),
              ElementsAre(AllOf(tells("lobe.intake.durations", "above the highest checking lift, 1.270 mm (0.0500 in)"),
                                tells("lobe.intake.durations", "the curve there is a fit"))));
  // At 0.200 in the intake is 104 - 182 / 2 = 13 degrees after TDC: within the 20.
  engine = wedge();
  engine.lobes[0].durations.resize(4);
  EXPECT_THAT(motion_doubts_of(engine), SizeIs(1));
  engine.cams[0].advance = -8 * kDegree;  // 21 degrees after
  EXPECT_THAT(motion_doubts_of(engine), IsEmpty());
}

TEST(MotionDoubts, OneLobeUnderTwoValvesTellsOnce) {
  Engine engine = wedge();
  engine.lobes[0].durations.resize(2);
  Valve second = engine.valves[0];
  second.name = "intake_rear";
  engine.valves.push_back(second);
  EXPECT_THAT(motion_doubts_of(engine), SizeIs(1));
}

}  // namespace
}  // namespace eyebrow
