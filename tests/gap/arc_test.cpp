#include "gap/arc.hpp"

#include <gtest/gtest.h>

#include "gap/tolerances.hpp"

namespace eyebrow::gap {
namespace {

/// A round pocket's wall, radius 20, cut by the crown flat at 15 degrees: an ellipse. `turn` in radians.
Vec3 on_ellipse(double turn) {
  constexpr double kTilt = 15 * kDegree;
  return {20 / std::cos(kTilt) * std::cos(turn), 20 * std::sin(turn), 0};
}

std::vector<Vec3> chain(Vec3 (*curve)(double), double from, double to, int pieces) {
  std::vector<Vec3> points;
  for (int i = 0; i <= pieces; ++i) points.push_back(curve(from + (to - from) * i / pieces));
  return points;
}

double least_distance(const std::vector<Arc>& arcs, Vec3 p) {
  double least = 1e9;
  for (const Arc& arc : arcs) {
    const Vec3 d = p - arc.centre;
    const double t =
        std::clamp(arc.straight ? dot(d, arc.b) : std::atan2(dot(d, arc.b), dot(d, arc.a)), -arc.half, arc.half);
    least = std::min(least, norm(p - arc.at(t)));
  }
  return least;
}

TEST(Arcs, ACircleIsAFewArcs) {
  const Frame frame = frame_about({3, -2, 5}, tilted_axis(0.3, 1.1));
  std::vector<Vec3> points;
  for (int i = 0; i <= 360; ++i) {
    const double turn = i * kDegree;
    points.push_back(frame.origin + 25 * std::cos(turn) * frame.x + 25 * std::sin(turn) * frame.y);
  }
  const std::vector<Arc> arcs = arcs_through(points);
  EXPECT_LE(arcs.size(), 4u);
  for (const Arc& arc : arcs) {
    EXPECT_NEAR(norm(arc.a), 25, 1e-9);
    EXPECT_NEAR(norm(arc.centre - frame.origin), 0, 1e-9);
  }
  double swept = 0;
  for (const Arc& arc : arcs) swept += 2 * arc.half;
  EXPECT_NEAR(swept, 2 * kPi, 1e-9);
}

TEST(Arcs, AStraightChainIsOnePiece) {
  std::vector<Vec3> points;
  for (int i = 0; i <= 50; ++i) points.push_back(Vec3{1, 2, 3} + 0.3 * i * unit(Vec3{1, 1, -2}));
  const std::vector<Arc> arcs = arcs_through(points);
  ASSERT_EQ(arcs.size(), 1u);
  EXPECT_TRUE(arcs[0].straight);
  EXPECT_NEAR(2 * arcs[0].half, 15, 1e-12);
}

TEST(Arcs, FollowAnEllipseBetweenItsPointsToo) {
  const std::vector<Arc> arcs = arcs_through(chain(on_ellipse, 0, 2 * kPi, 1600));
  EXPECT_LT(arcs.size(), 400u);
  for (int i = 0; i < 9973; ++i) EXPECT_LT(least_distance(arcs, on_ellipse(2 * kPi * i / 9973)), kArcOff);
}

TEST(Arcs, JoinEndToEnd) {
  const std::vector<Vec3> points = chain(on_ellipse, 0.2, 3, 333);
  const std::vector<Arc> arcs = arcs_through(points);
  EXPECT_LT(norm(arcs.front().at(-arcs.front().half) - points.front()), 1e-9);
  EXPECT_LT(norm(arcs.back().at(arcs.back().half) - points.back()), 1e-9);
  for (std::size_t i = 1; i < arcs.size(); ++i)
    EXPECT_LT(norm(arcs[i].at(-arcs[i].half) - arcs[i - 1].at(arcs[i - 1].half)), 1e-9);
}

TEST(Arcs, ACornerIsNotRounded) {
  std::vector<Vec3> points;
  for (int i = 0; i <= 20; ++i) points.push_back({0.5 * i, 0, 0});
  for (int i = 1; i <= 20; ++i) points.push_back({10, 0.5 * i, 0});
  for (const Vec3& p : points) EXPECT_LT(least_distance(arcs_through(points), p), 1e-9);
  EXPECT_LT(least_distance(arcs_through(points), {9.9, 0, 0}), 0.02);
}

}  // namespace
}  // namespace eyebrow::gap
