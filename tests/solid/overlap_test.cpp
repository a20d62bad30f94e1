// How much of a valve is inside a crown: closed forms, and modeller against quadrature on an engine's own shapes.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/overlap_estimate.hpp"

namespace eyebrow {
namespace {

constexpr double kHead = 30, kHeadRadius = kHead / 2, kMargin = 3;

/// One valve over a flat crown of 80 mm, on the bore axis but for `y`; closed, its rim plane is 10 over the head's
/// deck.
Engine one_valve(double tilt_degrees = 0, double y = 4) {
  Engine e = test::plain();
  e.valves = {test::valve("intake", Role::intake, -1, kHead, kMargin, 0, y, tilt_degrees, 20, 10, 6)};
  e.lobes = {test::lobe("intake", Role::intake, 10)};
  return e;
}

/// With this the rim-plane centre is `above` over the crown flat.
Placing standing(const Engine& engine, double above) {
  return {closed_place(engine, engine.valves[0]).z - above, {0}};
}

/// A stated error that tells something. The mesh's half micrometre alone is 1.5 % of a wedge 0.1 mm deep.
constexpr double kUsefulError = 0.025;

/// Told, not in doubt, within its own stated error of what it must be, and that error is small.
void expect_volume(const Overlap& found, double expected) {
  EXPECT_EQ(found.doubt, "");
  EXPECT_NEAR(found.volume, expected, 1e-5 * expected);  // the modeller's, cf. kBooleanVolume
  EXPECT_LE(std::fabs(found.volume - expected), found.volume_error);
  EXPECT_LT(found.volume_error, kUsefulError * expected);
}

/// The quadrature by itself, without the modeller's solids.
void expect_estimate(const Engine& engine, Parts parts, const Placing& placing, double expected) {
  parts.solids = nullptr;
  const Overlap alone = overlap_of(engine, parts, placing, 0);
  EXPECT_LE(std::fabs(alone.volume - expected), alone.volume_error);
  EXPECT_LT(alone.volume_error, kUsefulError * expected);
}

// Closed form: a level disc pushed g into a flat is a cylinder of that height.
TEST(Overlap, LevelDiscInAFlat) {
  const Engine engine = one_valve();
  const Parts parts = build_parts(engine, {});
  for (const double depth : {0.5, 2.5}) {
    const Placing placing = standing(engine, -depth);
    const double expected = kPi * kHeadRadius * kHeadRadius * depth;
    const Overlap found = overlap_of(engine, parts, placing, 0);
    expect_volume(found, expected);
    expect_estimate(engine, parts, placing, expected);
    // Its centre, in the block frame: half way up, on the valve's axis; the crown flat is one gasket above `height`.
    const double flat = placing.height + engine.gasket.thickness;
    EXPECT_NEAR(found.centre.x, 0, 1e-2);
    EXPECT_NEAR(found.centre.y, 4, 1e-2);
    EXPECT_NEAR(found.centre.z, flat - depth / 2, 1e-6);
  }
}

// Closed form: the wedge (ungula) that a plane cuts off a cylinder. In the valve's frame, x down the slope: the plane
// stands at w = (x - c) tan t over the rim plane, where c = R - g / sin t is where the rim plane goes in and g the
// depth of the rim's lowest point. Volume = tan t times the integral over c < x < R of (x - c) 2 sqrt(R^2 - x^2)
//   = tan t (2/3 (R^2 - c^2)^(3/2) - c (R^2 acos(c / R) - c sqrt(R^2 - c^2))).
double ungula(double radius, double tilt, double depth) {
  const double c = radius - depth / std::sin(tilt), half = std::sqrt(radius * radius - c * c);
  return std::tan(tilt) * (2.0 / 3 * half * half * half - c * (radius * radius * std::acos(c / radius) - c * half));
}

TEST(Overlap, TiltedDiscInAFlat) {
  // Half a disc's wedge, c = 0: 2/3 R^2 h, h = R tan t (a handbook form; memory).
  EXPECT_NEAR(ungula(2, 0.3, 2 * std::sin(0.3)), 2.0 / 3 * 4 * 2 * std::tan(0.3), 1e-12);
  for (const double degrees : {8.0, 15.0}) {
    const Engine engine = one_valve(degrees);
    const Parts parts = build_parts(engine, {});
    const double tilt = degrees * kDegree;
    for (const double depth : {0.1, 2.0}) {
      const Placing placing = standing(engine, kHeadRadius * std::sin(tilt) - depth);
      expect_volume(overlap_of(engine, parts, placing, 0), ungula(kHeadRadius, tilt, depth));
      expect_estimate(engine, parts, placing, ungula(kHeadRadius, tilt, depth));
    }
  }
}

// Closed form: the cap of a ball, pi g^2 (rho - g / 3), with the ball's radius rho from its chord and height.
TEST(Overlap, DomedFaceInAFlat) {
  Engine engine = one_valve();
  engine.valves[0].face = FaceShape::domed;
  engine.valves[0].face_depth = 2;
  const Parts parts = build_parts(engine, {});
  const double ball = (kHeadRadius * kHeadRadius + 2 * 2) / (2 * 2), depth = 1.2;
  const Placing placing = standing(engine, 2 - depth);
  expect_volume(overlap_of(engine, parts, placing, 0), kPi * depth * depth * (ball - depth / 3));
  expect_estimate(engine, parts, placing, kPi * depth * depth * (ball - depth / 3));
}

// Closed form: two circles of radii a and b whose centres are d apart share the two segments on their common chord.
double lens(double a, double b, double d) {
  const double x = (d * d + a * a - b * b) / (2 * d), half = std::sqrt(a * a - x * x);
  return a * a * std::acos(x / a) + b * b * std::acos((d - x) / b) - d * half;
}

// A level disc beside its level pocket: the crescent of the disc outside the pocket's circle, as high as the rim is
// deep.
TEST(Overlap, RimInAPocketWall) {
  Engine engine = one_valve(0, 1.5);
  engine.piston.underside = 12;
  engine.piston.pockets = {test::pocket("intake", 0, 0, 0, 0, kHead + 2, 3)};
  engine.valves[0].pocket = 0;
  const Parts parts = build_parts(engine, {});
  const double deep = 2;
  const double crescent = kPi * kHeadRadius * kHeadRadius - lens(kHeadRadius, kHeadRadius + 1, 1.5);
  const Placing placing = standing(engine, -deep);
  expect_volume(overlap_of(engine, parts, placing, 0), deep * crescent);
  expect_estimate(engine, parts, placing, deep * crescent);
}

TEST(Overlap, NoneWhereThePartsAreApart) {
  const Engine engine = one_valve(10);
  const Overlap found = overlap_of(engine, build_parts(engine, {}), standing(engine, 5), 0);
  EXPECT_EQ(found.volume, 0);
  EXPECT_LT(found.volume_error, 1);
  EXPECT_TRUE(std::isnan(found.centre.x));
  EXPECT_EQ(found.doubt, "");
}

// The modeller's volume lies within the quadrature's stated error, through walls, ridges, mouths and a roof.
TEST(Overlap, ModellerAndQuadratureAgreeOnEngines) {
  std::mt19937 random(20240);
  std::uniform_real_distribution<double> share(0, 1);
  int overlaps = 0;
  for (Engine engine : {test::wedge(), test::pent_roof()}) {
    for (Pocket& pocket : engine.piston.pockets) pocket.corner_radius = 1;
    const Parts parts = build_parts(engine, {});
    for (int i = 0; i < 8; ++i) {
      Placing placing{-engine.gasket.thickness - 1.5 * share(random), {}};
      for (std::size_t k = 0; k < engine.valves.size(); ++k) placing.lifts.push_back(8 + 5 * share(random));
      const int valve = i % static_cast<int>(engine.valves.size());
      const Overlap found = overlap_of(engine, parts, placing, valve);
      EXPECT_EQ(found.doubt, "") << engine.name << " " << i;
      if (found.volume == 0) continue;
      ++overlaps;
      EXPECT_LT(found.volume_error, 0.02 * found.volume + 0.05) << engine.name << " " << i << " " << found.volume;
    }
  }
  EXPECT_GE(overlaps, 8);
}

// A modeller that is wrong is noticed: here it has solids of another engine, whose valve is smaller.
TEST(Overlap, TellsTheLargerWhereTheTwoDisagree) {
  const Engine engine = one_valve();
  Engine smaller = engine;
  smaller.valves[0].head_diameter = kHead - 1;
  Parts parts = build_parts(engine, {});
  parts.solids = build_parts(smaller, {}).solids;
  const double right = kPi * kHeadRadius * kHeadRadius * 1.0,
               wrong = kPi * (kHeadRadius - 0.5) * (kHeadRadius - 0.5) * 1.0;
  const Overlap found = overlap_of(engine, parts, standing(engine, -1), 0);
  EXPECT_NE(found.doubt, "");
  EXPECT_NEAR(found.volume, right, 0.01 * right);
  EXPECT_GE(found.volume_error, right - wrong);
}

}  // namespace
}  // namespace eyebrow
