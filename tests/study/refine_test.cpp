// The least of made-up gaps whose least is known in closed form.
#include "study/refine.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace eyebrow::study {
namespace {

/// One unit of movement a degree of crank.
Vec3 moving(double crank) {
  return {crank / kDegree, 0, 0};
}

struct Counted {
  std::function<double(double)> of_degrees;
  int calls = 0;
  Least least(double step_degrees, const std::function<Vec3(double)>& place = moving) {
    const CyclePath path{[this](double crank) {
                           ++calls;
                           return of_degrees(crank / kDegree);
                         },
                         place};
    std::vector<CyclePoint> points;
    for (double crank : cycle_grid(step_degrees * kDegree)) points.push_back({crank, of_degrees(crank / kDegree)});
    return least_over_cycle(path, points);
  }
};

TEST(CycleGrid, HoldsTheMultiplesTdcAndBothEnds) {
  const std::vector<double> grid = cycle_grid(kDegree);
  ASSERT_EQ(grid.size(), 721u);
  EXPECT_EQ(grid[360], 0.0);
  EXPECT_DOUBLE_EQ(grid.front(), -2 * kPi);
  EXPECT_DOUBLE_EQ(grid.back(), 2 * kPi);
  EXPECT_DOUBLE_EQ(grid[372], 12 * kDegree);
  const std::vector<double> odd = cycle_grid(7 * kDegree);  // 7 does not divide 360
  EXPECT_DOUBLE_EQ(odd.front(), -2 * kPi);
  EXPECT_DOUBLE_EQ(odd.back(), 2 * kPi);
  EXPECT_DOUBLE_EQ(odd[1], -357 * kDegree);
  EXPECT_TRUE(std::ranges::is_sorted(odd));
}

TEST(Least, ParabolaBetweenSamplesAtAnyStep) {
  // 2 + 3e-4 (c - 9.37)^2: the curvature of a usual tight spot. 2 um above the least at +-2.582 degrees.
  for (double step : {0.5, 1.0, 2.0, 5.0}) {
    Counted gap{[](double c) { return 2 + 3e-4 * (c - 9.37) * (c - 9.37); }};
    const Least least = gap.least(step);
    ASSERT_TRUE(least.found);
    EXPECT_NEAR(least.value, 2, 1e-6) << step;
    EXPECT_NEAR(least.span_from / kDegree, 9.37 - std::sqrt(0.002 / 3e-4), 0.01) << step;
    EXPECT_NEAR(least.span_to / kDegree, 9.37 + std::sqrt(0.002 / 3e-4), 0.01) << step;
    EXPECT_LT(gap.calls, 3000) << step;
  }
}

TEST(Least, CuspFallsAsFastAsThePartsMove) {
  // A 1-Lipschitz gap whose only low place is a notch a third of a step wide: no sample sees it, movement does.
  for (double step : {0.5, 1.0, 2.0}) {
    Counted gap{[](double c) { return std::min(5.0, 4.8 + std::fabs(c - 100.33)); }};
    const Least least = gap.least(step);
    ASSERT_TRUE(least.found);
    EXPECT_NEAR(least.value, 4.8, 1e-3) << step;
    EXPECT_NEAR(least.crank / kDegree, 100.33, 1e-3) << step;
  }
}

TEST(Least, DistanceOfAPointPassingABallIsProvenCheaply) {
  // A point runs straight past a ball of radius 3 whose centre lies 5 beside its way: least distance 2, closed form.
  for (double step : {1.0, 4.0, 30.0}) {
    int calls = 0;
    const auto place = [](double crank) { return Vec3{0.3 * crank / kDegree - 17.7, 5, 0}; };
    const auto value = [&](double crank) {
      ++calls;
      return norm(place(crank)) - 3;
    };
    std::vector<CyclePoint> points;
    for (double crank : cycle_grid(step * kDegree)) points.push_back({crank, norm(place(crank)) - 3});
    const Least least = least_over_cycle({value, place, true, 2e-4}, points);
    EXPECT_NEAR(least.value, 2, 2e-4) << step;
    EXPECT_NEAR(least.crank / kDegree, 59, 0.02) << step;
    EXPECT_LT(calls, 250) << step;
  }
}

TEST(Least, DistanceThatDipsBetweenSamplesIsFound) {
  // Two far balls, and a small one that the point all but touches between two samples; nothing on the grid tells of it.
  const Vec3 centre{50.37, 0.012, 0};
  const auto place = [](double crank) { return Vec3{0.3 * crank / kDegree, 0, 0}; };
  const auto value = [&](double crank) {
    return std::min({norm(place(crank) - centre) - 0.01, norm(place(crank) - Vec3{10, 30, 0}) - 29.7});
  };
  for (double step : {1.0, 5.0}) {
    std::vector<CyclePoint> points;
    for (double crank : cycle_grid(step * kDegree)) points.push_back({crank, value(crank)});
    const Least least = least_over_cycle({value, place, true, 2e-4}, points);
    EXPECT_NEAR(least.value, 0.002, 2e-4) << step;
    EXPECT_NEAR(least.crank / kDegree, 167.9, 0.02) << step;
  }
}

TEST(Least, ScatterOfTheKernelIsNotChased) {
  Counted gap{[](double c) { return 2 + 3e-4 * (c - 9.37) * (c - 9.37) + 5e-5 * std::sin(1e6 * c); }};
  const Least least = gap.least(1);
  EXPECT_NEAR(least.value, 2, 1e-4);
  EXPECT_LT(gap.calls, 2000);
}

TEST(Least, LowSideOfAJumpIsFound) {
  // Falls from 3 toward the jump at 40.123 degrees, where it springs up by 4: the least is at the jump's low side.
  for (double step : {0.5, 1.0, 2.0}) {
    Counted gap{[](double c) { return 3 + 0.01 * std::fabs(c - 40.123) + (c > 40.123 ? 4 : 0); }};
    const Least least = gap.least(step);
    EXPECT_NEAR(least.value, 3, 2e-6) << step;
    EXPECT_NEAR(least.crank / kDegree, 40.123, 1.1e-4) << step;
    EXPECT_LE(least.crank / kDegree, 40.123);
    EXPECT_NEAR(least.span_to / kDegree, 40.123, 1.1e-3);
  }
}

TEST(Least, EndsOfARangeWithAGapAreFound) {
  // Measured between 10.2 and 33.3 degrees only, least at the end; NaN elsewhere.
  for (double step : {0.5, 1.0, 2.0}) {
    Counted gap{[](double c) { return c >= 10.2 && c <= 33.3 ? 5 - 0.1 * c : NAN; }};
    const Least least = gap.least(step);
    EXPECT_NEAR(least.crank / kDegree, 33.3, 1.1e-4) << step;
    EXPECT_NEAR(least.value, 5 - 3.33, 2e-5) << step;
  }
}

TEST(Least, NowhereMeasured) {
  Counted gap{[](double) { return NAN; }};
  EXPECT_FALSE(gap.least(1).found);
  EXPECT_EQ(gap.calls, 0);
}

TEST(Least, OfEqualsTheOneNearestOverlapTdc) {
  Counted level{[](double) { return 1.5; }};
  const Least still = level.least(1, [](double) { return Vec3{}; });
  EXPECT_EQ(still.crank, 0);
  EXPECT_DOUBLE_EQ(still.span_from, -2 * kPi);
  EXPECT_DOUBLE_EQ(still.span_to, 2 * kPi);
  Counted wave{[](double c) { return std::cos(c * kDegree * 3); }};  // -1 at +-60, +-180, +-300
  const Least least = wave.least(1);
  EXPECT_NEAR(least.value, -1, 1e-7);
  EXPECT_NEAR(std::fabs(least.crank) / kDegree, 60, 0.01);
}

TEST(Least, TwoLowsTheLowerOneWins) {
  // -20.5: 1.001; +17.75: 1.000, narrower than the first.
  Counted gap{[](double c) {
    return std::min(1.001 + 1e-4 * (c + 20.5) * (c + 20.5), 1.0 + 5e-3 * (c - 17.75) * (c - 17.75));
  }};
  for (double step : {0.5, 1.0, 2.0, 4.0}) {
    const Least least = gap.least(step);
    EXPECT_NEAR(least.value, 1.0, 1e-6) << step;
    EXPECT_NEAR(least.crank / kDegree, 17.75, 0.01) << step;
  }
}

}  // namespace
}  // namespace eyebrow::study
