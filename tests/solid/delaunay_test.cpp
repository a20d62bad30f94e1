#include "solid/delaunay.hpp"

#include <gtest/gtest.h>

#include <random>

namespace eyebrow {
namespace {

std::vector<GridPoint> ring(int n, double radius, std::int64_t x = 0, std::int64_t y = 0) {
  std::vector<GridPoint> points;
  for (int i = 0; i < n; ++i) {
    const double a = 2 * 3.14159265358979 * i / n;
    points.push_back({x + std::llround(radius * std::cos(a)), y + std::llround(radius * std::sin(a))});
  }
  return points;
}

double area_of(const std::vector<GridPoint>& points, const std::vector<Delaunay::Triangle>& triangles) {
  double area = 0;
  for (const auto& t : triangles) {
    const auto at = [&](int i) { return points[static_cast<std::size_t>(t.vertex[static_cast<std::size_t>(i)])]; };
    const double one = static_cast<double>(at(1).x - at(0).x) * static_cast<double>(at(2).y - at(0).y) -
                       static_cast<double>(at(1).y - at(0).y) * static_cast<double>(at(2).x - at(0).x);
    EXPECT_GT(one, 0);
    area += one / 2;
  }
  return area;
}

double shoelace(const std::vector<GridPoint>& p) {
  double twice = 0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const GridPoint &a = p[i], &b = p[(i + 1) % p.size()];
    twice += static_cast<double>(a.x) * static_cast<double>(b.y) - static_cast<double>(b.x) * static_cast<double>(a.y);
  }
  return twice / 2;
}

// Exactly cocircular points leave every in-circle test undecided; the area is closed form.
TEST(Delaunay, RingWithAHole) {
  Delaunay plane;
  const auto outer = ring(360, 1e8), inner = ring(90, 3e7, 1000000, 0);
  std::vector<GridPoint> all = outer;
  all.insert(all.end(), inner.begin(), inner.end());
  for (std::size_t i = 0; i < all.size(); ++i) ASSERT_EQ(plane.add(all[i]), static_cast<int>(i));
  for (int i = 0; i < 360; ++i) ASSERT_TRUE(plane.constrain(i, (i + 1) % 360));
  for (int i = 0; i < 90; ++i) ASSERT_TRUE(plane.constrain(360 + i, 360 + (i + 1) % 90));
  ASSERT_TRUE(plane.mark_inside());
  const auto triangles = plane.inside();
  EXPECT_EQ(triangles.size(), 450u);  // Euler: n + 2 h - 2 triangles of n points, h holes
  EXPECT_DOUBLE_EQ(area_of(all, triangles), shoelace(outer) - shoelace(inner));
}

TEST(Delaunay, ConstraintsThatCrossAreRefusedAndNamed) {
  Delaunay plane;
  for (const GridPoint p :
       {GridPoint{0, 0}, GridPoint{100, 100}, GridPoint{0, 100}, GridPoint{100, 0}, GridPoint{50, 200}})
    plane.add(p);
  ASSERT_TRUE(plane.constrain(0, 1));
  EXPECT_FALSE(plane.constrain(2, 3));
  const auto [a, b] = plane.blocked_by();
  EXPECT_EQ(std::min(a, b), 0);
  EXPECT_EQ(std::max(a, b), 1);
}

TEST(Delaunay, ConstraintThroughAPointIsRefused) {
  Delaunay plane;
  for (const GridPoint p :
       {GridPoint{0, 0}, GridPoint{100, 0}, GridPoint{50, 0}, GridPoint{50, 80}, GridPoint{50, -80}})
    plane.add(p);
  EXPECT_FALSE(plane.constrain(0, 1));
}

TEST(Delaunay, CoincidingPointsAreTold) {
  Delaunay plane;
  EXPECT_EQ(plane.add({5, 5}), 0);
  EXPECT_EQ(plane.add({9, 5}), 1);
  EXPECT_EQ(plane.add({5, 5}), 0);
}

TEST(Delaunay, OpenConstraintsCloseNothing) {
  Delaunay plane;
  for (const GridPoint p : {GridPoint{0, 0}, GridPoint{100, 0}, GridPoint{50, 70}}) plane.add(p);
  plane.constrain(0, 1);
  plane.constrain(1, 2);
  EXPECT_FALSE(plane.mark_inside());
}

TEST(Delaunay, RandomPolygonsWithPointsInside) {
  std::mt19937 random(3);
  for (int trial = 0; trial < 30; ++trial) {
    Delaunay plane;
    std::vector<GridPoint> points;
    const int n = 20 + static_cast<int>(random() % 200);
    for (int i = 0; i < n; ++i) {  // a star: never crosses itself
      const double a = 2 * 3.14159265358979 * i / n, r = 2e7 + static_cast<double>(random() % 80000000);
      points.push_back({std::llround(r * std::cos(a)), std::llround(r * std::sin(a))});
    }
    const double expected = shoelace(points);
    for (const GridPoint& p : points) plane.add(p);
    for (int i = 0; i < n; ++i) ASSERT_TRUE(plane.constrain(i, (i + 1) % n)) << trial;
    ASSERT_TRUE(plane.mark_inside());
    int added = 0;
    for (int i = 0; i < 500; ++i) {
      const GridPoint p{static_cast<std::int64_t>(random() % 200000000) - 100000000,
                        static_cast<std::int64_t>(random() % 200000000) - 100000000};
      if (plane.add_inside(p, 0) >= 0) points.push_back(p), ++added;
    }
    const auto triangles = plane.inside();
    EXPECT_EQ(triangles.size(), static_cast<std::size_t>(n - 2 + 2 * added));
    EXPECT_NEAR(area_of(points, triangles) / expected, 1, 1e-12);
  }
}

}  // namespace
}  // namespace eyebrow
