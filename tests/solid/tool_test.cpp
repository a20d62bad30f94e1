// Where a pocket's floor lies, for each meaning of its depth.
#include "solid/tool.hpp"

#include <gtest/gtest.h>

#include <random>

#include "solid/engines.hpp"

namespace eyebrow {
namespace {

/// Lowest z of the tool's surface by walking over it: floor rings, corner arc, wall; only inside `crown_radius`.
double lowest_by_walking(const Tool& t, double crown_radius) {
  double lowest = 1e9;
  const Frame frame = frame_about(t.floor_centre, t.up);
  const auto look = [&](double r, double w) {
    for (int i = 0; i < 2880; ++i) {
      const double a = i * 2 * kPi / 2880;
      const Vec3 p = frame.origin + r * std::cos(a) * frame.x + r * std::sin(a) * frame.y + w * frame.z;
      if (std::hypot(p.x, p.y) <= crown_radius) lowest = std::min(lowest, p.z);
    }
  };
  const double flat = t.radius - t.corner;
  for (int i = 0; i <= 200; ++i) {
    const double r = flat * i / 200;
    look(r, floor_height(t, r));
    look(t.radius, t.corner + i * 0.1);
  }
  for (int i = 0; i <= 200; ++i) {
    const double b = i * kPi / 2 / 200;
    look(flat + t.corner * std::sin(b), t.corner * (1 - std::cos(b)));
  }
  return lowest;
}

TEST(Tool, DeepestPointLiesAtTheDepthCornerIncluded) {
  for (const double corner : {0.0, 1.0, 3.0}) {
    for (const double tilt : {0.0, 5.0, 15.0, 23.0}) {
      const auto t = pocket_tool(test::pocket("p", 5, 8, tilt, 40, 40, 4, corner, DepthTo::deepest), nullptr, 50);
      ASSERT_TRUE(t);
      EXPECT_NEAR(lowest(*t), -4, 1e-12);
      EXPECT_NEAR(lowest_by_walking(*t, 50), -4, 1e-3) << corner << " " << tilt;
      EXPECT_GE(lowest_by_walking(*t, 50), -4 - 1e-9);
    }
  }
}

TEST(Tool, OnlyPointsInsideTheCrownAreReal) {
  // Leaning outward over the crown's edge: the low side of the floor is outside the crown.
  int past_the_edge = 0;
  for (const double x : {20.0, 26.0, 30.0}) {
    for (const double tilt : {0.0, 10.0, 20.0}) {
      const auto t = pocket_tool(test::pocket("p", x, 6, tilt, 0, 36, 4, 1.5, DepthTo::deepest), nullptr, 40);
      ASSERT_TRUE(t) << x << " " << tilt;
      EXPECT_NEAR(*lowest_inside(*t, 40), -4, 1e-9) << x << " " << tilt;
      const double walked = lowest_by_walking(*t, 40);
      EXPECT_NEAR(walked, -4, 0.02) << x << " " << tilt;  // the walk's own grid at the crown's edge
      EXPECT_GE(walked, -4 - 1e-9);
      if (lowest(*t) < -4.01) ++past_the_edge;
    }
  }
  EXPECT_GE(past_the_edge, 4);  // or this test would not test what it says
}

// Closed form: the floor's plane through its low edge.
TEST(Tool, SharpEdgeIgnoresTheCorner) {
  const auto t = pocket_tool(test::pocket("p", 0, 0, 20, 90, 30, 5, 2), nullptr, 50);
  EXPECT_NEAR(t->floor_centre.z, -5 + 15 * std::sin(20 * kDegree), 1e-12);
  const Vec3 low_edge =
      t->floor_centre + 15.0 * (std::cos(20 * kDegree) * Vec3{0, 1, 0} - std::sin(20 * kDegree) * Vec3{0, 0, 1});
  EXPECT_NEAR(low_edge.z, -5, 1e-12);
  EXPECT_GT(lowest(*t), -5);
}

TEST(Tool, FloorCentreIsMeasuredSquareToTheFlat) {
  const auto t = pocket_tool(test::pocket("p", 3, 4, 20, 30, 30, 5, 2, DepthTo::floor_centre), nullptr, 50);
  EXPECT_NEAR(t->floor_centre.z, -5, 1e-12);
  // Its axis still crosses the flat where the pocket says.
  const Vec3 at_flat = t->floor_centre + (5 / t->up.z) * t->up;
  EXPECT_NEAR(at_flat.x, 3, 1e-12);
  EXPECT_NEAR(at_flat.y, 4, 1e-12);
}

TEST(Tool, FloorShapedLikeADomedValveKeepsItsDepth) {
  Valve v = test::valve("v", Role::intake, 0, 30, 1.2, 0, 0, 10, 0, 5, 6);
  v.face = FaceShape::domed;
  v.face_depth = 2;
  Pocket p = test::pocket("p", 0, 0, 10, 0, 34, 5, 1, DepthTo::deepest);
  p.floor = FloorShape::valve_face;
  const auto t = pocket_tool(p, &v, 50);
  ASSERT_TRUE(t);
  EXPECT_NEAR(lowest_by_walking(*t, 50), -5, 1e-3);
  EXPECT_NEAR(floor_height(*t, 0), -2, 1e-12);
  EXPECT_NEAR(floor_height(*t, 15), 0, 1e-12);
  p.depth_to = DepthTo::floor_centre;
  const auto centred = pocket_tool(p, &v, 50);
  EXPECT_NEAR((centred->floor_centre + floor_height(*centred, 0) * centred->up).z, -5, 1e-12);
}

TEST(Tool, MissesTheCrown) {
  EXPECT_FALSE(pocket_tool(test::pocket("p", 90, 0, 0, 0, 30, 5, 0, DepthTo::deepest), nullptr, 40));
}

TEST(Tool, VerticalLinesAgreeWithMembership) {
  std::mt19937 random(7);
  const auto between = [&](double a, double b) { return a + (b - a) * (random() / 4294967296.0); };
  int inside_somewhere = 0;
  for (int k = 0; k < 400; ++k) {
    Tool t;
    t.up = tilted_axis(between(0, 40) * kDegree, between(0, 360) * kDegree);
    t.floor_centre = {between(-5, 5), between(-5, 5), between(-5, 5)};
    t.radius = between(5, 20);
    t.corner = k % 2 ? between(0.2, 3) : 0;
    const double x = between(-20, 20), y = between(-20, 20);
    const auto span = on_vertical(t, x, y);
    for (double z = -30.05; z < 30; z += 0.1) {
      const Vec3 from = Vec3{x, y, z} - t.floor_centre;
      const double w = dot(from, t.up), r = norm(from - w * t.up);
      // Off the boundary by more than round-off, or not decided here.
      if (std::fabs(r - t.radius) < 1e-6 || (r < t.radius && std::fabs(w - floor_height(t, r)) < 1e-6)) continue;
      const bool inside = r < t.radius && w > floor_height(t, r);
      inside_somewhere += inside;
      EXPECT_EQ(inside, span && z > span->low && z < span->high) << k << " " << z;
    }
  }
  EXPECT_GT(inside_somewhere, 1000);
}

}  // namespace
}  // namespace eyebrow
