// Opening and closing angles, lobe centres, advance: the arithmetic of a timing card, read off Motion.
#include <gtest/gtest.h>

#include "eyebrow/motion.hpp"
#include "motion/root.hpp"

namespace eyebrow {
namespace {

constexpr double kCheckingLift = 1;

/// One cam with both lobes, the same duration at 1 mm of valve lift.
Engine engine_with(double duration, double intake_centre, double exhaust_centre, double advance) {
  Engine engine;
  engine.cylinder.stroke = 86;
  engine.cylinder.rod_length = 143;
  engine.cams = {{.name = "cam", .advance = advance * kDegree}};
  for (Role role : {Role::intake, Role::exhaust}) {
    Lobe lobe;
    lobe.name = role == Role::intake ? "intake" : "exhaust";
    lobe.cam = "cam";
    lobe.role = role;
    lobe.centre = (role == Role::intake ? intake_centre : exhaust_centre) * kDegree;
    lobe.measured = LiftAt::valve;
    lobe.lift = 10;
    lobe.durations = {{kCheckingLift, duration * kDegree}, {5, (duration - 80) * kDegree}};
    engine.lobes.push_back(lobe);
    Valve valve;
    valve.name = valve.lobe = lobe.name;
    valve.role = role;
    engine.valves.push_back(valve);
  }
  return engine;
}

/// Crank degrees where the valve passes the checking lift, before and after its lobe centre.
struct Events {
  double opens, closes;
};
Events events(const Motion& motion, int valve) {
  const double centre = motion.lobe_centre(valve);
  const auto above = [&](double crank) { return motion.lift(valve, crank) - kCheckingLift; };
  return {motion::root(above, centre - kPi, centre) / kDegree, motion::root(above, centre, centre + kPi) / kDegree};
}

TEST(ValveTimingReference, WorkshopExample) {
  // Published (workshop worked example): intake opens 20 before TDC, closes 60 after BDC = 260 degrees; 5 crank degrees
  // of advance make it 25-55, 5 of retard 15-65; the exhaust's 60-20 becomes 65-15 and 55-25.
  // Closed form: the intake's middle is (180 + 60 - 20) / 2 = 110 after TDC, the exhaust's 110 before.
  struct Timing {
    double advance, intake_opens, intake_closes, exhaust_opens, exhaust_closes;
  };
  for (const Timing& row : {Timing{0, 20, 60, 60, 20}, Timing{5, 25, 55, 65, 15}, Timing{-5, 15, 65, 55, 25}}) {
    const Motion motion(engine_with(260, 110, 110, row.advance));
    const Events intake = events(motion, 0), exhaust = events(motion, 1);
    EXPECT_NEAR(-intake.opens, row.intake_opens, 1e-6);          // before TDC
    EXPECT_NEAR(intake.closes - 180, row.intake_closes, 1e-6);   // after BDC
    EXPECT_NEAR(-180 - exhaust.opens, row.exhaust_opens, 1e-6);  // before BDC
    EXPECT_NEAR(exhaust.closes, row.exhaust_closes, 1e-6);       // after TDC
    EXPECT_NEAR(intake.closes - intake.opens, 260, 1e-6);
    EXPECT_NEAR(exhaust.closes - exhaust.opens, 260, 1e-6);
  }
}

TEST(ValveTimingReference, CentresUnderAdvanceAndSeparation) {
  // Closed form: centres 110/110; advance 5 -> 105/115; retard 5 -> 115/105; separation 105, cam unmoved -> 105/105.
  const auto centres = [](double intake, double exhaust, double advance) {
    const Motion motion(engine_with(260, intake, exhaust, advance));
    return std::pair{motion.lobe_centre(0) / kDegree, -motion.lobe_centre(1) / kDegree};
  };
  const auto expect = [](std::pair<double, double> found, double intake, double exhaust) {
    EXPECT_NEAR(found.first, intake, 1e-9);
    EXPECT_NEAR(found.second, exhaust, 1e-9);
    // Separation in cam degrees is untouched by advance.
    EXPECT_NEAR((found.first + found.second) / 2, (intake + exhaust) / 2, 1e-9);
  };
  expect(centres(110, 110, 0), 110, 110);
  expect(centres(110, 110, 5), 105, 115);
  expect(centres(110, 110, -5), 115, 105);
  expect(centres(105, 105, 0), 105, 105);
}

TEST(ValveTimingReference, OverlapIsTheSumOfOpeningAndClosing) {
  // Closed form: with d the duration and c the centres, overlap at the checking lift is d - 2 * separation (cam
  // degrees, so 2 c_in / 2 + 2 c_ex / 2), whatever the advance.
  for (double advance : {-6.0, 0.0, 6.0}) {
    const Motion motion(engine_with(250, 106, 112, advance));
    EXPECT_NEAR(events(motion, 1).closes - events(motion, 0).opens, 250 - (106 + 112), 1e-6);
  }
}

TEST(ValveTimingReference, OneToothOfAPulley) {
  // Published: army technical manual TM 5-3895-382-24: gear tooth arc 23 mm on a 203 mm diameter = 12.98 degrees. A cam
  // gear one tooth late turns the cam by that, the crank by twice as much.
  const double tooth = 23 / (203 / 2.0) / kDegree;
  EXPECT_NEAR(tooth, 12.98, 0.005);
  const Motion motion(engine_with(260, 110, 110, -2 * tooth));
  EXPECT_NEAR(motion.lobe_centre(0) / kDegree, 110 + 25.97, 0.01);
}

}  // namespace
}  // namespace eyebrow
