// An overhead cam that comes nearer to the crank: what its belt or chain lets it fall behind.
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/fault.hpp"
#include "eyebrow/timing.hpp"

namespace eyebrow {
namespace {

struct Wheel {
  double x, y, radius;
};

/// The way along the belt from a mark at the bottom of the crank's wheel to one at the top of the cam's, over the +x
/// side: arc, run, arc. Closed form of the outer tangent to two circles.
double belt_between_marks(const Wheel& crank, const Wheel& cam) {
  const double dx = cam.x - crank.x, dy = cam.y - crank.y, d = std::hypot(dx, dy);
  const double run = std::sqrt(d * d - (crank.radius - cam.radius) * (crank.radius - cam.radius));
  // The run touches both wheels where their normal n points: n . (cam - crank) = crank radius - cam radius.
  const double n = std::atan2(dy, dx) - std::acos((crank.radius - cam.radius) / d);
  const double bottom = -kPi / 2, top = kPi / 2;
  return crank.radius * (n - bottom) + run + cam.radius * (top - n);
}

/// The run's angle from +y, the bore axis.
double run_angle(const Wheel& crank, const Wheel& cam) {
  const double dx = cam.x - crank.x, dy = cam.y - crank.y;
  const double n = std::atan2(dy, dx) - std::acos((crank.radius - cam.radius) / std::hypot(dx, dy));
  return std::fabs(n);  // the run is square to n, the bore axis to +x
}

Engine engine_with(double run, double diameter) {
  Engine engine;
  engine.gasket.thickness = 1.2;
  engine.cams = {{.name = "cam"}};
  engine.drive = CamDrive{.pulley_diameter = diameter, .run_angle = run, .gasket_when_timed = 1.2};
  return engine;
}

TEST(CamDrive, IsTheBeltOfTwoCirclesThatComeNearer) {
  // Closed form: the belt between the marks keeps its length, so the cam turns back by what the way got shorter. The
  // wheels are invented; the cam's twice the crank's, as it turns half as often. The formula may only be too late, and
  // by no more than its declaration says.
  for (const double aside : {-90.0, -20.0, 0.0, 35.0, 110.0}) {
    for (const double approach : {0.05, 0.25, 1.0, 3.0}) {
      const Wheel crank{0, 0, 28}, cam{aside, 320, 56}, after{aside, 320 - approach, 56};
      const double shorter = belt_between_marks(crank, cam) - belt_between_marks(crank, after);
      const double late = 2 * shorter / cam.radius;
      const double angle = run_angle(crank, cam);
      const double run = std::sqrt(aside * aside + 320.0 * 320.0 - 28.0 * 28.0);
      Engine engine = engine_with(angle, 112);
      engine.head.milled = approach;
      const double found = drive_retard(engine, engine.cams[0]);
      const double excess = approach * approach * std::sin(angle) * std::sin(angle) / (2 * run);
      EXPECT_GE(found, late - 1e-12) << aside << " " << approach;
      // 1 % more for the terms of third order.
      EXPECT_LE(found, late + 1.01 * 2 * excess / cam.radius + 1e-9) << aside << " " << approach;
    }
  }
}

TEST(CamDrive, HeadBlockAndGasketAddUp) {
  // Closed form, run along the bore axis: approach over the pitch radius, twice in crank degrees.
  Engine engine = engine_with(0, 100);
  EXPECT_EQ(drive_retard(engine, engine.cams[0]), 0);
  engine.head.milled = 0.5;
  EXPECT_NEAR(drive_retard(engine, engine.cams[0]), 2 * 0.5 / 50, 1e-15);
  engine.drive->deck_cut = 0.25;
  EXPECT_NEAR(drive_retard(engine, engine.cams[0]), 2 * 0.75 / 50, 1e-15);
  engine.gasket.thickness = 1.95;  // 0.75 more than when it was timed: back to where it was
  EXPECT_NEAR(drive_retard(engine, engine.cams[0]), 0, 1e-15);
  engine.gasket.thickness = 2.95;
  EXPECT_NEAR(drive_retard(engine, engine.cams[0]), -2 * 1.0 / 50, 1e-15) << "a thicker gasket runs it early";
  engine.drive->run_angle = 60 * kDegree;
  EXPECT_NEAR(drive_retard(engine, engine.cams[0]), -1.0 / 50, 1e-15);
  engine.drive->retimed = true;
  EXPECT_EQ(drive_retard(engine, engine.cams[0]), 0);
  engine.drive.reset();
  EXPECT_EQ(drive_retard(engine, engine.cams[0]), 0) << "a cam in the block";
}

TEST(CamDrive, AnAngleMilledHeadComesNearerByWhatIsOffAtTheBore) {
  Engine engine = engine_with(0, 100);
  engine.head.angle_milled = AngleMilled{.deep = 1.5, .shallow = 0.3, .width = 120, .bore_from_deep = 40};
  EXPECT_NEAR(drive_retard(engine, engine.cams[0]), 2 * 1.1 / 50, 1e-15);  // 1.5 - 40 / 120 * 1.2
}

TEST(CamDrive, PitchAndTeethMakeTheDiameter) {
  // Closed form: one pitch of belt is one tooth of the cam. An approach of one pitch retards by one tooth.
  Engine engine = engine_with(0, 0);
  engine.drive->pitch = 9.525;  // a usual pitch of toothed belts, 3/8 in (common practice)
  engine.cams[0].teeth = 38;
  engine.head.milled = 9.525;
  EXPECT_NEAR(drive_retard(engine, engine.cams[0]), one_tooth(38), 1e-14);
  engine.cams[0].teeth = 0;
  EXPECT_THROW(drive_retard(engine, engine.cams[0]), Error);
}

TEST(CamDrive, OneToothOut) {
  // Published: army technical manual TM 5-3895-382-24: gear tooth arc 23 mm on a 203 mm diameter = 12.98 degrees.
  EXPECT_NEAR(wheel_turn(23, 203) / kDegree, 12.98, 0.005);
  // Closed form: 36 teeth, 10 cam degrees, 20 of the crank.
  EXPECT_NEAR(one_tooth(36) / kDegree, 20, 1e-12);
  EXPECT_THROW(one_tooth(0), Error);
  EXPECT_THROW(wheel_turn(1, 0), Error);
}

TEST(TimingCard, WorkshopExample) {
  // Published (workshop worked example): opens 20 before, closes 60 after: 260 degrees. What advance makes of it is
  // read off Motion in valve_timing_test.
  const TimingCard intake{20 * kDegree, 60 * kDegree}, exhaust{60 * kDegree, 20 * kDegree};
  EXPECT_NEAR(duration_of(intake) / kDegree, 260, 1e-12);
  EXPECT_NEAR(duration_of(exhaust) / kDegree, 260, 1e-12);
  // Closed form: half of 260 less 20.
  EXPECT_NEAR(centre_of(Role::intake, intake) / kDegree, 110, 1e-12);
  EXPECT_NEAR(centre_of(Role::exhaust, exhaust) / kDegree, 110, 1e-12);
}

}  // namespace
}  // namespace eyebrow
