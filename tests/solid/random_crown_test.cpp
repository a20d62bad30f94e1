// Thirty invented crowns by chance, always the same: pockets that overlap, cross the edge, reach into dish and dome.
#include <gtest/gtest.h>

#include <random>

#include "eyebrow/parts.hpp"
#include "solid/crown_numbers.hpp"
#include "solid/engines.hpp"
#include "solid/surface_checks.hpp"
#include "solid/void_volume.hpp"

namespace eyebrow {
namespace {

Engine random_engine(unsigned seed) {
  std::mt19937 random(seed);
  const auto between = [&](double a, double b) { return a + (b - a) * (random() / 4294967296.0); };
  const auto chance = [&](double of) { return between(0, 1) < of; };
  Engine e = test::plain();
  switch (random() % 5) {
    case 1: {
      const double diameter = between(20, 60), depth = between(1, 4), x = between(-5, 5), y = between(-5, 5);
      e.piston.dish = Dish{diameter, depth, chance(0.5) ? 0.0 : 0.8, x, y};
      break;
    }
    case 2:
      e.piston.round_dome = RoundDome{between(2, 8), 60, DomeShape::sphere, 0};
      break;
    case 3:
      e.piston.round_dome = RoundDome{between(2, 8), 55, DomeShape::cone, 20};
      break;
    case 4: {
      const double front = between(25, 36), back = between(25, 36), slope = between(10, 25) * kDegree;
      e.piston.roof_dome = RoofDome{
          between(2, 6), {{slope, 0, front}, {slope + 0.02, kPi, back}, {0.6, kPi / 2, 33}, {0.6, -kPi / 2, 34}}};
      break;
    }
    default:
      break;
  }
  if (chance(0.3)) e.piston.top_chamfer = between(0.3, 1.5);
  const int pockets = 1 + static_cast<int>(random() % 4);
  for (int i = 0; i < pockets; ++i) {
    const double azimuth = (i + between(-0.2, 0.2)) * 2 * kPi / pockets + 1, away = between(8, 32);
    const double tilt = chance(0.2) ? 0.0 : between(2, 25), lean = between(0, 360), diameter = between(20, 40);
    const double depth = between(2, 6), corner = chance(0.5) ? 0.0 : between(0.3, 2);
    Pocket p = test::pocket("", away * std::cos(azimuth), away * std::sin(azimuth), tilt, lean, diameter, depth, corner,
                            static_cast<DepthTo>(random() % 3));
    p.name = "number " + std::to_string(i + 1);
    e.piston.pockets.push_back(p);
  }
  return e;
}

class RandomCrown : public testing::TestWithParam<unsigned> {};

TEST_P(RandomCrown, IsValidAndOfTheExpectedVolume) {
  const Engine e = random_engine(GetParam());
  std::vector<Fault> faults;
  const CrownNumbers numbers = check_crown(e, {}, faults);
  ASSERT_TRUE(faults.empty()) << faults.front().message;
  const Crown c = build_parts(e, {}, 0.005).crown;  // throws when a boolean fails its checks

  std::vector<Tool> tools;
  for (const CrownTool& each : numbers.tools) tools.push_back(each.tool);
  const CrownVolume expected = crown_volume(e.piston, numbers.bottom, tools, 3);
  EXPECT_NEAR(c.volume, expected.metal, 1e-3 * expected.removed);

  EXPECT_LE(c.error, 0.005);
  EXPECT_EQ(test::open_edges(c), 0);
  EXPECT_NEAR(test::mesh_volume(c), c.volume, c.error * test::total_area(c));
  EXPECT_EQ(test::names_of(c).size(), c.faces.size());

  // The depth that was asked for: the lowest point of each pocket that says "deepest" and is not cut off by another.
  for (std::size_t i = 0; i < e.piston.pockets.size(); ++i) {
    double lowest = 0;
    for (const Triangle& t : c.triangles) {
      const Face& face = c.faces[static_cast<std::size_t>(t.face)];
      if (face.pocket != static_cast<int>(i)) continue;
      for (int k = 0; k < 3; ++k) lowest = std::min(lowest, test::corner(c, t, k).z);
    }
    if (e.piston.pockets[i].depth_to != DepthTo::deepest) continue;
    EXPECT_GE(lowest, -e.piston.pockets[i].depth - 1e-6);
    if (e.piston.pockets.size() == 1 && !e.piston.dish) {
      EXPECT_NEAR(lowest, -e.piston.pockets[i].depth, 0.006);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Thirty, RandomCrown, testing::Range(100u, 130u));

}  // namespace
}  // namespace eyebrow
