// Volumes and areas of crowns against closed forms. Formulas of solids and surfaces of revolution, caps, frustums and
// prismoids are published in any book of mensuration; Pappus: V = 2 pi x A, S = 2 pi x L with the centroid's distance
// x.
#include <gtest/gtest.h>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/surface_checks.hpp"
#include "solid/void_volume.hpp"

namespace eyebrow {
namespace {

using test::kCoarse;

constexpr double kRelative = 1e-6;

constexpr double kRadius = 40, kHeight = 15;  // of the plain crown with this underside

Engine crown_with(void (*change)(Piston&)) {
  Engine e = test::plain();
  e.piston.underside = kHeight;
  change(e.piston);
  return e;
}

double volume_of(const Engine& e) {
  return build_parts(e, {}, kCoarse).crown.volume;
}

double blank() {
  return kPi * kRadius * kRadius * kHeight;
}

double area_of(const Crown& c, const char* name) {
  const int face = test::face_named(c, name);
  EXPECT_GE(face, 0) << name;
  return face < 0 ? NAN : c.faces[static_cast<std::size_t>(face)].area;
}

void expect_volume(const Engine& e, double expected) {
  EXPECT_NEAR(volume_of(e), expected, kRelative * expected);
}

TEST(CrownVolume, Plain) {
  expect_volume(crown_with([](Piston&) {}), blank());
}

TEST(CrownVolume, VerticalPocket) {
  const Engine e = crown_with([](Piston& p) { p.pockets = {test::pocket("a", 10, 8, 0, 0, 30, 3)}; });
  expect_volume(e, blank() - kPi * 225 * 3);
  const Crown c = build_parts(e, {}, kCoarse).crown;
  EXPECT_NEAR(area_of(c, "a pocket floor"), kPi * 225, 1e-6);
  EXPECT_NEAR(area_of(c, "a pocket wall"), 2 * kPi * 15 * 3, 1e-6);
  EXPECT_NEAR(area_of(c, "crown flat"), kPi * (1600 - 225), 1e-6);
  EXPECT_NEAR(area_of(c, "side"), 2 * kPi * kRadius * kHeight, 1e-6);
}

// Closed form: a cylinder cut off slantwise holds its section times its length on the axis.
TEST(CrownVolume, TiltedPocketAllRoundBelowTheFlat) {
  const Engine e = crown_with([](Piston& p) { p.pockets = {test::pocket("a", 5, 8, 6, 30, 30, 5)}; });
  const double centre = -5 + 15 * std::sin(6 * kDegree);
  ASSERT_LT(centre + 15 * std::sin(6 * kDegree), 0);
  expect_volume(e, blank() - kPi * 225 * -centre / std::cos(6 * kDegree));
}

// Closed form, the hoof of a cylinder: integral of (x - c) tan g 2 sqrt(R^2 - x^2) over x from c to R, with the floor's
// line in the flat at distance c from the pocket's axis.
TEST(CrownVolume, TiltedPocketThatOpensThroughTheFlat) {
  const Engine e = crown_with([](Piston& p) { p.pockets = {test::pocket("a", 2, 8, 20, 30, 40, 4)}; });
  const double g = 20 * kDegree, r = 20, centre = -4 + r * std::sin(g), c = centre / std::sin(g);
  ASSERT_GT(centre, 0);
  const double half = std::sqrt(r * r - c * c);
  const double hoof = std::tan(g) * (2.0 / 3 * half * half * half - c * (r * r * std::acos(c / r) - c * half));
  expect_volume(e, blank() - hoof);
}

TEST(CrownVolume, DishWithCorner) {
  const Engine e = crown_with([](Piston& p) { p.dish = Dish{50, 4, 2, 3, -2}; });
  // Pappus: what a corner radius r leaves standing has the section r^2 (1 - pi / 4), its centroid
  // r (10 - 3 pi) / (12 - 3 pi) from both sides.
  const double fillet = 4 * (1 - kPi / 4), from_wall = 2 * (10 - 3 * kPi) / (12 - 3 * kPi);
  expect_volume(e, blank() - (kPi * 625 * 4 - 2 * kPi * (25 - from_wall) * fillet));
  // Pappus: the quarter arc's centroid is 2 r / pi out from its centre.
  const Crown c = build_parts(e, {}, kCoarse).crown;
  EXPECT_NEAR(area_of(c, "dish corner"), 2 * kPi * (23 + 2 * 2 / kPi) * kPi / 2 * 2, 1e-5);
  EXPECT_NEAR(area_of(c, "dish floor"), kPi * 23 * 23, 1e-6);
}

// A corner radius wider than the floor that is left, cut off by the flat: z = r - sqrt(r^2 - (x - f)^2) turned about
// the axis, volume by the closed form of the integral of 2 pi x (depth - z) over x from the floor's edge f to the
// mouth.
TEST(CrownVolume, DishWithCornerWiderThanItsFloor) {
  const Engine e = crown_with([](Piston& p) { p.dish = Dish{50, 3, 20, 0, 0}; });
  const double r = 20, f = 5, d = 3, mouth = std::sqrt(r * r - (r - d) * (r - d));  // outward from f
  const double half_disc = (mouth * std::sqrt(r * r - mouth * mouth) + r * r * std::asin(mouth / r)) / 2;
  const double first = (r * r * r - std::pow(r * r - mouth * mouth, 1.5)) / 3;  // of x sqrt(r^2 - x^2)
  const double ring = 2 * kPi * ((d - r) * (f * mouth + mouth * mouth / 2) + f * half_disc + first);
  expect_volume(e, blank() - kPi * f * f * d - ring);
}

TEST(CrownVolume, VerticalPocketWithCorner) {
  const Engine e = crown_with([](Piston& p) { p.pockets = {test::pocket("a", 5, 8, 0, 0, 30, 4, 1.5)}; });
  const double fillet = 2.25 * (1 - kPi / 4), from_wall = 1.5 * (10 - 3 * kPi) / (12 - 3 * kPi);
  expect_volume(e, blank() - (kPi * 225 * 4 - 2 * kPi * (15 - from_wall) * fillet));
}

TEST(CrownVolume, SphericalDome) {
  const Engine e = crown_with([](Piston& p) { p.round_dome = RoundDome{5, 60, DomeShape::sphere, 0}; });
  expect_volume(e, blank() + kPi * 5 * (3 * 900 + 25) / 6);
  const Crown c = build_parts(e, {}, kCoarse).crown;
  EXPECT_NEAR(area_of(c, "dome"), 2 * kPi * (900 + 25) / 10 * 5, 1e-5);
}

TEST(CrownVolume, ConicalDomeWithAndWithoutTop) {
  expect_volume(crown_with([](Piston& p) {
                  p.round_dome = RoundDome{5, 60, DomeShape::cone, 20};
                }),
                blank() + kPi * 5 * (900 + 300 + 100) / 3);
  expect_volume(crown_with([](Piston& p) {
                  p.round_dome = RoundDome{5, 60, DomeShape::cone, 0};
                }),
                blank() + kPi * 5 * 900 / 3);
}

// Pappus: a triangle c x c / 2, its centroid c / 3 inside the crown's side.
TEST(CrownVolume, TopChamfer) {
  expect_volume(crown_with([](Piston& p) { p.top_chamfer = 1.5; }),
                blank() - 2 * kPi * (kRadius - 0.5) * 1.5 * 1.5 / 2);
}

// A roof that stands wholly on the flat is a prismoid: h (A0 + 4 Am + A1) / 6.
TEST(CrownVolume, RoofWithinTheCrown) {
  const Engine e = crown_with([](Piston& p) {
    p.roof_dome = RoofDome{
        4, {{30 * kDegree, 0, 24}, {30 * kDegree, kPi, 22}, {40 * kDegree, kPi / 2, 20}, {40 * kDegree, -kPi / 2, 20}}};
  });
  const auto section = [](double z) {
    return (46 - 2 * z / std::tan(30 * kDegree)) * (40 - 2 * z / std::tan(40 * kDegree));
  };
  expect_volume(e, blank() + 4 * (section(0) + 4 * section(2) + section(4)) / 6);
  const Crown c = build_parts(e, {}, kCoarse).crown;
  EXPECT_NEAR(area_of(c, "dome plateau"), section(4), 1e-6);
}

TEST(CrownVolume, RoofOverTheCrownsEdgeByQuadrature) {
  Engine e = test::pent_roof();
  e.piston.pockets.clear();
  for (Valve& v : e.valves) v.pocket = -1;
  e.piston.underside = 12;
  for (const double chamfer : {0.0, 0.8}) {
    e.piston.top_chamfer = chamfer;
    const double volume = volume_of(e);
    EXPECT_NEAR(volume, crown_volume(e.piston, -12, {}, 4).metal, 2e-5 * volume);
  }
}

TEST(CrownVolume, PocketAcrossTheCrownsEdgeByQuadrature) {
  for (const double tilt : {0.0, 12.0}) {
    Engine e = test::plain();
    e.piston.underside = 15;
    e.piston.pockets = {test::pocket("a", 6, 31, tilt, 0, 30, 4, 1, DepthTo::deepest)};
    const auto tool = pocket_tool(e.piston.pockets[0], nullptr, kRadius);
    const CrownVolume expected = crown_volume(e.piston, -15, {*tool}, 4);
    EXPECT_NEAR(volume_of(e), expected.metal, 1e-3 * expected.removed);
  }
}

// Two vertical pockets of one depth share a lens: 2 R^2 acos(d / 2R) - d / 2 sqrt(4 R^2 - d^2) (published,
// circle-circle).
TEST(CrownVolume, OverlappingPocketsOfOneDepth) {
  const Engine e = crown_with([](Piston& p) {
    p.pockets = {test::pocket("a", 0, 12, 0, 0, 30, 3), test::pocket("b", 0, -12, 0, 0, 30, 3)};
  });
  const double lens = 2 * 225 * std::acos(24.0 / 30) - 12 * std::sqrt(900.0 - 576);
  expect_volume(e, blank() - 3 * (2 * kPi * 225 - lens));
}

TEST(CrownVolume, PocketIntoDish) {
  const Engine e = crown_with([](Piston& p) {
    p.dish = Dish{40, 2, 0, 0, 0};
    p.pockets = {test::pocket("a", 0, 22, 0, 0, 20, 5)};
  });
  // Closed form: the circles' common lens with radii 20 and 10, 22 apart, is counted to the dish's depth but once.
  const double d = 22, r = 10, big = 20;
  const double lens = r * r * std::acos((d * d + r * r - big * big) / (2 * d * r)) +
                      big * big * std::acos((d * d + big * big - r * r) / (2 * d * big)) -
                      std::sqrt((-d + r + big) * (d + r - big) * (d - r + big) * (d + r + big)) / 2;
  expect_volume(e, blank() - kPi * 400 * 2 - kPi * 100 * 5 + lens * 2);
}

TEST(CrownVolume, FloorShapedLikeTheValveFace) {
  for (const FaceShape shape : {FaceShape::domed, FaceShape::dished}) {
    Engine e = test::plain();
    e.piston.underside = kHeight;
    e.piston.pockets = {test::pocket("a", 0, 5, 0, 0, 34, 4, 1)};
    e.piston.pockets[0].floor = FloorShape::valve_face;
    e.valves = {test::valve("a", Role::intake, 0, 30, 1.2, 0, 5, 0, 0, 5, 6)};
    e.valves[0].face = shape;
    e.valves[0].face_depth = 1.5;
    const double cap = kPi * 1.5 * (3 * 225 + 2.25) / 6;
    const double fillet = 1 - kPi / 4, from_wall = (10 - 3 * kPi) / (12 - 3 * kPi);
    expect_volume(
        e, blank() - (kPi * 289 * 4 - 2 * kPi * (17 - from_wall) * fillet) + (shape == FaceShape::domed ? -cap : cap));
  }
}

TEST(CrownVolume, WithoutAnUndersideThereIsMetalBelowTheDeepest) {
  Engine e = test::plain();
  e.piston.pockets = {test::pocket("a", 0, 5, 0, 0, 30, 6)};
  const Crown c = build_parts(e, {}, kCoarse).crown;
  const double bottom = c.faces.at(static_cast<std::size_t>(test::face_named(c, "underside"))).frame.origin.z;
  EXPECT_LT(bottom, -6 - 5);
}

}  // namespace
}  // namespace eyebrow
