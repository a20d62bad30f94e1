// Where a valve goes when the head is milled at an angle.
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/engine.hpp"

namespace eyebrow {
namespace {

using Matrix = double[3][3];

Vec3 times(const Matrix& m, Vec3 v) {
  return {m[0][0] * v.x + m[0][1] * v.y + m[0][2] * v.z, m[1][0] * v.x + m[1][1] * v.y + m[1][2] * v.z,
          m[2][0] * v.x + m[2][1] * v.y + m[2][2] * v.z};
}

void expect_near(Vec3 found, Vec3 expected, double error) {
  EXPECT_NEAR(found.x, expected.x, error);
  EXPECT_NEAR(found.y, expected.y, error);
  EXPECT_NEAR(found.z, expected.z, error);
}

/// An invented valve of 23 degrees.
Valve wedge_valve(double lean_degrees) {
  Valve valve;
  valve.x = 5;
  valve.y = -20;
  valve.rim_height = 14;
  valve.tilt = 23 * kDegree;
  valve.lean = lean_degrees * kDegree;
  return valve;
}

/// An invented cut: 0.060 in at one side of a 6 in wide head, nothing at the other, the bore axis 2.5 in from the deep
/// side. 0.573 degrees; 0.035 in at the bore axis (closed form: 0.060 * 3.5 / 6).
Engine cut_toward(double degrees) {
  Engine engine;
  engine.head.angle_milled = AngleMilled{.deep = 0.060 * kInch,
                                         .shallow = 0,
                                         .width = 6 * kInch,
                                         .bore_from_deep = 2.5 * kInch,
                                         .toward = degrees * kDegree};
  return engine;
}

TEST(AngleMilling, AnglesAndAmounts) {
  const AngleMilled cut = *cut_toward(0).head.angle_milled;
  EXPECT_NEAR(std::atan(cut.slope()) / kDegree, 0.5729, 0.00005);
  EXPECT_NEAR(cut.at_bore() / kInch, 0.035, 1e-12);
}

TEST(AngleMilling, TowardXIsAHandRotationAboutY) {
  // Closed form. Deeper toward +x: the head turns about y so that its top leans to +x. By the rotation matrix.
  const double a = std::atan(0.01), c = std::cos(a), s = std::sin(a);
  const Matrix about_y = {{c, 0, s}, {0, 1, 0}, {-s, 0, c}};
  const Valve valve = wedge_valve(0);
  const Engine engine = cut_toward(0);
  const double g = 23 * kDegree;
  expect_near(up_axis(engine, valve), times(about_y, {std::sin(g), 0, std::cos(g)}), 1e-15);
  // In the plane of the lean the angles add.
  expect_near(up_axis(engine, valve), {std::sin(g + a), 0, std::cos(g + a)}, 1e-15);
  expect_near(closed_place(engine, valve), times(about_y, {5, -20, 14 - 0.035 * kInch}), 1e-13);
}

TEST(AngleMilling, TowardTheFrontIsAHandRotationAboutX) {
  // Closed form. Deeper toward +y: the top leans to +y, about x. Square to the lean, the tilt hardly changes, the lean
  // turns.
  const double a = std::atan(0.01), c = std::cos(a), s = std::sin(a);
  const Matrix about_x = {{1, 0, 0}, {0, c, s}, {0, -s, c}};
  const Valve valve = wedge_valve(0);
  const Engine engine = cut_toward(90);
  const double g = 23 * kDegree;
  const Vec3 up = up_axis(engine, valve);
  expect_near(up, times(about_x, {std::sin(g), 0, std::cos(g)}), 1e-15);
  EXPECT_NEAR(std::acos(up.z), std::acos(std::cos(g) * c), 1e-14);
  EXPECT_NEAR(std::atan2(up.y, up.x), std::atan2(s * std::cos(g), std::sin(g)), 1e-14);
  expect_near(closed_place(engine, valve), times(about_x, {5, -20, 14 - 0.035 * kInch}), 1e-13);
}

TEST(AngleMilling, AnyDirectionIsTheSameTurnInAxesOfItsOwn) {
  // Closed form: turn the axes to the cut's, rotate about y there, turn back.
  for (const double toward : {-130.0, 17.0, 64.0, 200.0}) {
    const double t = toward * kDegree, a = std::atan(0.01), c = std::cos(a), s = std::sin(a);
    const Matrix to_cut = {{std::cos(t), std::sin(t), 0}, {-std::sin(t), std::cos(t), 0}, {0, 0, 1}};
    const Matrix about_y = {{c, 0, s}, {0, 1, 0}, {-s, 0, c}};
    const Matrix back = {{std::cos(t), -std::sin(t), 0}, {std::sin(t), std::cos(t), 0}, {0, 0, 1}};
    const Engine engine = cut_toward(toward);
    const Valve valve = wedge_valve(150);
    const auto turn = [&](Vec3 v) { return times(back, times(about_y, times(to_cut, v))); };
    expect_near(up_axis(engine, valve), turn(tilted_axis(valve.tilt, valve.lean)), 1e-15);
    expect_near(closed_place(engine, valve), turn({5, -20, 14 - 0.035 * kInch}), 1e-13);
    EXPECT_NEAR(norm(up_axis(engine, valve)), 1, 1e-15);
  }
}

TEST(AngleMilling, EveryPointOfTheNewFaceComesToTheDeck) {
  // By the definition: at the distance d toward the deeper side the cut takes off at_bore + d * slope; a valve whose
  // rim centre lies there is on the deck after, as far from the line through the bore axis as along the new face
  // before.
  const double toward = 31 * kDegree;
  const Engine engine = cut_toward(31);
  for (const double d : {-60.0, -10.0, 0.0, 25.0, 60.0}) {
    Valve valve;
    valve.x = d * std::cos(toward);
    valve.y = d * std::sin(toward);
    valve.rim_height = 0.035 * kInch + d * 0.01;
    const Vec3 at = closed_place(engine, valve);
    EXPECT_NEAR(at.z, 0, 1e-14);
    EXPECT_NEAR(std::hypot(at.x, at.y), std::fabs(d) * std::sqrt(1 + 0.01 * 0.01), 1e-13);
  }
}

TEST(AngleMilling, AnEvenCutIsMilling) {
  // Closed form: the same amount at both sides is milling by it, to the last bit of the directions.
  Engine even, milled;
  even.head.angle_milled = AngleMilled{.deep = 0.4, .shallow = 0.4, .width = 150, .bore_from_deep = 70, .toward = 1};
  milled.head.milled = 0.4;
  Valve valve = wedge_valve(77);
  valve.sunk = 0.3;
  expect_near(closed_place(even, valve), closed_place(milled, valve), 1e-14);
  expect_near(up_axis(even, valve), up_axis(milled, valve), 1e-16);
}

TEST(AngleMilling, MillingAndASunkSeatFollowTheTurnedHead) {
  // By the definition: milled is square to the face as it is now, so along z; a sunk seat draws the valve along its
  // turned axis.
  Engine engine = cut_toward(-40);
  Valve valve = wedge_valve(10);
  const Vec3 before = closed_place(engine, valve), up = up_axis(engine, valve);
  engine.head.milled = 0.25;
  expect_near(closed_place(engine, valve) - before, {0, 0, -0.25}, 1e-14);
  valve.sunk = 0.5;
  expect_near(closed_place(engine, valve) - before, Vec3{0, 0, -0.25} + 0.5 * up, 1e-14);
  EXPECT_GT(norm(up - tilted_axis(valve.tilt, valve.lean)), 0.009);
}

TEST(AngleMilling, SmallAnglesMoveAWedgeValveAsTheBenchExpects) {
  // Closed form to first order: a valve d toward the deeper side falls by at_bore + d * slope and walks height * slope
  // toward the deeper side.
  const Engine engine = cut_toward(0);
  const Valve valve = wedge_valve(0);
  const Vec3 moved = closed_place(engine, valve) - Vec3{valve.x, valve.y, valve.rim_height};
  EXPECT_NEAR(moved.z, -(0.035 * kInch + 5 * 0.01), 1e-3);
  EXPECT_NEAR(moved.x, (14 - 0.035 * kInch) * 0.01, 1e-3);
  EXPECT_NEAR(moved.y, 0, 1e-13);
}

}  // namespace
}  // namespace eyebrow
