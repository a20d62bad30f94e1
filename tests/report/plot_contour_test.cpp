// Contour lines and regions: closed forms.
#include <gtest/gtest.h>

#include <cmath>

#include "report/plot_contour.hpp"

namespace eyebrow::plot {
namespace {

template <typename F>
Grid grid(const F& z, std::vector<double> x = {0, 1, 2.5, 3, 4}, std::vector<double> y = {0, 2, 3, 5}) {
  Grid out{std::move(x), std::move(y), {}};
  for (const double b : out.y)
    for (const double a : out.x) out.z.push_back(z(a, b));
  return out;
}

double area(const std::vector<Polygon>& polygons) {
  double sum = 0;
  for (const Polygon& p : polygons)
    for (std::size_t i = 0; i < p.size(); ++i) {
      const Place a = p[i], b = p[(i + 1) % p.size()];
      sum += (a.x * b.y - b.x * a.y) / 2;
    }
  return sum;
}

TEST(PlotContour, OfAPlaneIsOneStraightLine) {
  const double a = 1.3, b = -0.7;
  const Grid plane = grid([&](double x, double y) { return a * x + b * y; });
  for (const double level : {-2.9, -1.0, 0.1, 2.2, 4.5}) {
    const auto chains = contour(plane, level);
    ASSERT_EQ(chains.size(), 1u) << level;
    for (const Place& p : chains[0]) EXPECT_NEAR(a * p.x + b * p.y, level, 1e-12);
    // From border to border.
    for (const Place& end : {chains[0].front(), chains[0].back()})
      EXPECT_NEAR(std::fmin(std::fmin(end.x, 4 - end.x), std::fmin(end.y, 5 - end.y)), 0, 1e-12);
    // Straight: its length is that of its ends' distance.
    double length = 0;
    for (std::size_t i = 1; i < chains[0].size(); ++i)
      length += std::hypot(chains[0][i].x - chains[0][i - 1].x, chains[0][i].y - chains[0][i - 1].y);
    EXPECT_NEAR(length, std::hypot(chains[0].back().x - chains[0].front().x, chains[0].back().y - chains[0].front().y),
                1e-12);
  }
  EXPECT_TRUE(contour(plane, 10).empty());
}

TEST(PlotContour, StandsWhereItShould) {
  // z = x: x = 1.75 is halfway between the second and the third column.
  const auto chains = contour(grid([](double x, double) { return x; }), 1.75);
  ASSERT_EQ(chains.size(), 1u);
  for (const Place& p : chains[0]) EXPECT_NEAR(p.x, 1.75, 1e-12);
  EXPECT_NEAR(std::fabs(chains[0].front().y - chains[0].back().y), 5, 1e-12);
}

TEST(PlotContour, RegionsOfAPlaneHaveItsArea) {
  const Grid plane = grid([](double x, double y) { return x + y; });
  EXPECT_NEAR(area(region(plane, -INFINITY, INFINITY)), 20, 1e-12);
  EXPECT_NEAR(area(region(plane, -INFINITY, 3)), 4.5, 1e-12) << "half of a square of 3";
  EXPECT_NEAR(area(region(plane, 3, 4)), 8 - 4.5, 1e-12);
  double sum = 0;
  for (double level = 0; level < 9; ++level) sum += area(region(plane, level, level + 1));
  EXPECT_NEAR(sum, 20, 1e-12);
  for (const Polygon& each : region(plane, 2, 5)) EXPECT_GE(area({each}), 0) << "all turn the same way";
}

TEST(PlotContour, ACircleIsOneClosedChain) {
  std::vector<double> side;
  for (int i = 0; i <= 60; ++i) side.push_back(-1.5 + 0.05 * i);
  const Grid cone = grid([](double x, double y) { return std::hypot(x, y); }, side, side);
  const auto chains = contour(cone, 1);
  ASSERT_EQ(chains.size(), 1u);
  EXPECT_EQ(chains[0].front().x, chains[0].back().x);
  EXPECT_EQ(chains[0].front().y, chains[0].back().y);
  // Linear interpolation of a cone is off by h^2 / (8 r) at most along an edge of length h (here the diagonal's half).
  for (const Place& p : chains[0]) EXPECT_NEAR(std::hypot(p.x, p.y), 1, 0.05 * 0.05 / 4);
  EXPECT_NEAR(area(region(cone, 0, 1)), kPi, 0.01);
}

TEST(PlotContour, ASaddleHasTwo) {
  const Grid saddle = grid([](double x, double y) { return x * y; }, {-2, -1, 0.5, 2}, {-2, -0.5, 1, 2});
  EXPECT_EQ(contour(saddle, 1).size(), 2u);
  EXPECT_EQ(contour(saddle, -1).size(), 2u);
}

TEST(PlotContour, LeavesOutCellsWithoutANumber) {
  Grid plane = grid([](double x, double y) { return x + y; });
  plane.z[1 + 1 * 5] = NAN;  // x = 1, y = 2: four cells of together 2.5 * 3
  EXPECT_NEAR(area(region(plane, -INFINITY, INFINITY)), 20 - 7.5, 1e-12);
  EXPECT_NEAR(area(left_out(plane)), 7.5, 1e-12);
  for (const auto& chain : contour(plane, 2.2))
    for (const Place& p : chain) EXPECT_TRUE(p.x >= 2.5 || p.y >= 3) << p.x << ' ' << p.y;
  EXPECT_TRUE(std::isnan(value_at(plane, {0.5, 1})));
  EXPECT_NEAR(value_at(plane, {3.2, 1}), 4.2, 1e-12);
}

TEST(PlotContour, ValueAtFollowsTheTriangles) {
  const Grid plane = grid([](double x, double y) { return 2 * x - 3 * y + 1; });
  for (double x = 0; x <= 4; x += 0.23)
    for (double y = 0; y <= 5; y += 0.31) EXPECT_NEAR(value_at(plane, {x, y}), 2 * x - 3 * y + 1, 1e-12);
  EXPECT_TRUE(std::isnan(value_at(plane, {-0.1, 1})));
  EXPECT_TRUE(std::isnan(value_at(plane, {1, 5.1})));
  // On a contour it is the level, whatever the surface.
  const Grid curved = grid([](double x, double y) { return std::sin(x) + std::cos(1.3 * y); });
  for (const auto& chain : contour(curved, 0.3))
    for (const Place& p : chain) EXPECT_NEAR(value_at(curved, p), 0.3, 1e-12);
}

TEST(PlotHatch, CoversWhatIsThereAndNothingElse) {
  // Lines x + y = multiples of the step over a square of 30: their length times their distance is the area, but for the
  // ends. Cut into triangles they are the same lines.
  const Polygon square{{5, 5}, {35, 5}, {35, 35}, {5, 35}};
  const auto whole = hatch_lines({square}, 0.5, false);
  const auto parts = hatch_lines({{square[0], square[1], square[2]}, {square[0], square[2], square[3]}}, 0.5, false);
  ASSERT_EQ(whole.size(), parts.size());
  double length = 0;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    EXPECT_NEAR(whole[i].first.x, parts[i].first.x, 1e-9);
    EXPECT_NEAR(whole[i].second.y, parts[i].second.y, 1e-9);
    EXPECT_NEAR(std::remainder(whole[i].first.x + whole[i].first.y, 0.5 * std::sqrt(2.0)), 0, 1e-9);
    for (const Place& p : {whole[i].first, whole[i].second})
      EXPECT_TRUE(p.x > 5 - 1e-9 && p.x < 35 + 1e-9 && p.y > 5 - 1e-9 && p.y < 35 + 1e-9);
    length += std::hypot(whole[i].second.x - whole[i].first.x, whole[i].second.y - whole[i].first.y);
  }
  EXPECT_NEAR(length * 0.5, 900, 1);
  // The other way x - y = 0 is a line, too, through two corners.
  EXPECT_EQ(hatch_lines({square}, 0.5, true).size(), 2 * whole.size() + 1);
  // x + y = 40 root 2 crosses both of two boxes beside each other, in two pieces.
  EXPECT_EQ(hatch_lines({square, {{50, 5}, {60, 5}, {60, 35}, {50, 35}}}, 40, false).size(), 2u);
  EXPECT_TRUE(hatch_lines({}, 1, true).empty());
  EXPECT_TRUE(hatch_lines({{{1, 1}, {1, 1}, {1, 1}}}, 1, true).empty());
}

TEST(PlotContour, NothingOfLessThanACell) {
  EXPECT_TRUE(contour(Grid{{1}, {1}, {3}}, 3).empty());
  EXPECT_TRUE(region(Grid{{1, 2}, {1}, {3, 4}}, 0, 9).empty());
  EXPECT_TRUE(std::isnan(value_at(Grid{{1}, {1}, {3}}, {1, 1})));
}

}  // namespace
}  // namespace eyebrow::plot
