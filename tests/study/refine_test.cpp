// The least of made-up gaps whose least is known in closed form, with bounds made by hand.
#include "study/refine.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace eyebrow::study {
namespace {

using Of = std::function<double(double)>;

/// A gap of degrees. `below(from, to)`: what it cannot fall below between two angles, exact or not; infinite = none.
struct Counted {
  Of of_degrees;
  std::function<double(double, double)> below;
  int calls = 0;

  Least least() {
    const auto value = [this](double crank) {
      ++calls;
      return of_degrees(crank / kDegree);
    };
    const auto low = [value](double crank) {
      const double found = value(crank);
      return std::isnan(found) ? INFINITY : found;
    };
    CycleGap gap;
    gap.value = value;
    gap.low = low;
    gap.bound = [this](const Stretch& s, double) { return below(s.from / kDegree, s.to / kDegree); };
    return least_over_cycle(gap);
  }
};

double inside(double from, double to, double at) {
  return std::clamp(at, from, to);
}

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

TEST(Least, ParabolaWithALooseBound) {
  // 2 + 3e-4 (c - 9.37)^2: the curvature of a usual tight spot. 2 um above the least at +-2.582 degrees. The bound is a
  // fall of 1 um a degree of width too low.
  const Of of = [](double c) { return 2 + 3e-4 * (c - 9.37) * (c - 9.37); };
  Counted gap{of, [&](double from, double to) { return of(inside(from, to, 9.37)) - 1e-3 * (to - from); }};
  const Least least = gap.least();
  ASSERT_TRUE(least.found);
  EXPECT_NEAR(least.value, 2, 1e-7);
  EXPECT_NEAR(least.crank / kDegree, 9.37, 0.01);
  EXPECT_LE(least.proven, 2);
  EXPECT_GE(least.proven, 2 - kValueTolerance);
  EXPECT_NEAR(least.span_from / kDegree, 9.37 - std::sqrt(0.002 / 3e-4), 0.01);
  EXPECT_NEAR(least.span_to / kDegree, 9.37 + std::sqrt(0.002 / 3e-4), 0.01);
  EXPECT_TRUE(std::isnan(least.before));
  EXPECT_LT(gap.calls, 150);
}

TEST(Least, DistanceOfAPointPassingABallIsProvenCheaply) {
  // A point runs straight past a ball of radius 3 whose centre lies 5 beside its way: least distance 2, closed form.
  const auto place = [](double crank) { return Vec3{0.3 * crank / kDegree - 17.7, 5, 0}; };
  int calls = 0;
  CycleGap gap;
  gap.value = gap.low = [&](double crank) {
    ++calls;
    return norm(place(crank)) - 3;
  };
  gap.bound = [&](const Stretch& s, double) {
    return distance_bound(s.at_from, s.at_to, {norm(place(s.to) - place(s.from)), 0});
  };
  gap.at_ends = true;
  const Least least = least_over_cycle(gap);
  EXPECT_NEAR(least.value, 2, 1e-6);
  EXPECT_LE(least.proven, 2 + 1e-12);
  EXPECT_GE(least.proven, 2 - kValueTolerance);
  EXPECT_NEAR(least.crank / kDegree, 59, 0.02);
  EXPECT_LT(calls, 250);
}

TEST(Least, DistanceThatDipsInAHundredthOfAMillimetreIsFound) {
  // Two far balls, and a small one that the point all but touches in passing.
  const Vec3 centre{50.37, 0.012, 0};
  const auto place = [](double crank) { return Vec3{0.3 * crank / kDegree, 0, 0}; };
  CycleGap gap;
  gap.value = gap.low = [&](double crank) {
    return std::min(norm(place(crank) - centre) - 0.01, norm(place(crank) - Vec3{10, 30, 0}) - 29.7);
  };
  gap.bound = [&](const Stretch& s, double) {
    return distance_bound(s.at_from, s.at_to, {norm(place(s.to) - place(s.from)), 0});
  };
  gap.at_ends = true;
  const Least least = least_over_cycle(gap);
  EXPECT_NEAR(least.value, 0.002, 2e-4);
  EXPECT_NEAR(least.crank / kDegree, 167.9, 0.02);
}

TEST(DistanceBound, HoldsForBallsAndIsTightForTheOneItDescribes) {
  // Distance along x to a ball of radius 1 about (0, d + 1): least d at x = 0. Closed form.
  for (double d : {0.05, 0.5, 5.0})
    for (double from : {-2.0, -0.5, -0.1})
      for (double to : {0.1, 0.7, 3.0}) {
        const auto of = [&](double x) { return std::hypot(x, d + 1) - 1; };
        const double bound = distance_bound(of(from), of(to), {to - from, 0});
        EXPECT_LE(bound, d) << d << " " << from << " " << to;
        EXPECT_DOUBLE_EQ(distance_bound(of(from), of(to), {to - from, 0.01}), bound - 0.01);
      }
  // A point's distance bends down as much as semiconcavity allows: sqrt(x^2 + 1) is 1.25e-5 lower in the middle of
  // -0.005 ... 0.005 than at the ends.
  const double end = std::hypot(0.005, 1.0);
  EXPECT_NEAR(distance_bound(end, end, {0.01, 0}), 1, 1e-7);
}

TEST(Least, BothSidesOfAJump) {
  // Falls from 3.4 toward the jump at 40.123 degrees, where it springs up by 4: the least is the lower side's.
  const Of of = [](double c) { return 3 + 0.01 * std::fabs(c - 40.123) + (c > 40.123 ? 4 : 0); };
  Counted gap{of, [&](double from, double to) { return of(inside(from, to, 40.123)) - 0.01 * (to - from); }};
  const Least least = gap.least();
  EXPECT_NEAR(least.value, 3, 1e-7);
  EXPECT_NEAR(least.crank / kDegree, 40.123, 2e-7);
  EXPECT_LE(least.crank / kDegree, 40.123);
  EXPECT_NEAR(least.before, 3, 1e-7);
  EXPECT_NEAR(least.after, 7, 1e-7);
  EXPECT_LE(least.proven, 3);
  EXPECT_GE(least.proven, 3 - kValueTolerance);
  EXPECT_NEAR(least.span_to / kDegree, 40.123, 2e-3);
  EXPECT_LT(gap.calls, 300);
}

TEST(Least, LowOnlyAtOneAngle) {
  // Lower semicontinuous: 5 everywhere, 4 at one angle that no halving hits, which only bounds tell of. The interval
  // holds 4, and the crank angle is its.
  constexpr double kAt = 123.4567;
  Counted gap{[](double) { return 5.0; }, [&](double from, double to) { return from <= kAt && kAt <= to ? 4.0 : 5.0; }};
  const Least least = gap.least();
  ASSERT_TRUE(least.found);
  EXPECT_EQ(least.proven, 4);
  EXPECT_NEAR(least.crank / kDegree, kAt, 1e-4);
  EXPECT_EQ(least.before, 5);
  EXPECT_EQ(least.after, 5);
}

TEST(Least, EndsOfARangeWithAGapAreFound) {
  // Measured between 10.2 and 33.3 degrees only, least at the end; no gap elsewhere.
  const Of of = [](double c) { return c >= 10.2 && c <= 33.3 ? 5 - 0.1 * c : NAN; };
  Counted gap{
      of, [&](double from, double to) { return to < 10.2 || from > 33.3 ? INFINITY : 5 - 0.1 * std::min(to, 33.3); }};
  const Least least = gap.least();
  EXPECT_NEAR(least.crank / kDegree, 33.3, 2e-7);
  EXPECT_NEAR(least.value, 5 - 3.33, 1e-6);
  EXPECT_NEAR(least.before, 5 - 3.33, 1e-6);
  EXPECT_TRUE(std::isnan(least.after));
}

TEST(Least, AGapThatExistsInAHundredthOfADegreeIsFound) {
  for (double at : {-311.117, 0.3, 77.7777}) {
    const Of of = [at](double c) { return std::fabs(c - at) <= 0.005 ? 1 + 10 * std::fabs(c - at) : NAN; };
    Counted gap{of, [&](double from, double to) {
                  return to < at - 0.005 || from > at + 0.005 ? INFINITY : of(inside(from, to, at)) - 0.1 * (to - from);
                }};
    const Least least = gap.least();
    ASSERT_TRUE(least.found) << at;
    EXPECT_NEAR(least.value, 1, 0.01) << at;
    EXPECT_NEAR(least.crank / kDegree, at, 0.001) << at;
    EXPECT_LE(least.proven, 1);
    EXPECT_LT(gap.calls, 300) << at;
  }
}

TEST(Least, NowhereMeasured) {
  Counted gap{[](double) { return NAN; }, [](double, double) { return INFINITY; }};
  EXPECT_FALSE(gap.least().found);
  EXPECT_EQ(gap.calls, 0);
}

TEST(Least, OfEqualsTheOneNearestOverlapTdc) {
  Counted level{[](double) { return 1.5; }, [](double, double) { return 1.5; }};
  const Least still = level.least();
  EXPECT_NEAR(still.crank, 0, kWidestStretch);
  EXPECT_DOUBLE_EQ(still.span_from, -2 * kPi);
  EXPECT_DOUBLE_EQ(still.span_to, 2 * kPi);
  // -1 at 0 and at +-180, +-360.
  const Of of = [](double c) { return -std::cos(2 * c * kDegree); };
  Counted wave{of, [&](double from, double to) {
                 const double turn = 180 * std::round((from + to) / 360);
                 return of(inside(from, to, turn)) - 1e-3 * (to - from);
               }};
  const Least least = wave.least();
  EXPECT_NEAR(least.value, -1, 1e-7);
  EXPECT_NEAR(least.crank / kDegree, 0, 0.01);
}

TEST(Least, TwoLowsTheLowerOneWins) {
  // -20.5: 1.001; +17.75: 1.000, narrower than the first.
  const Of left = [](double c) { return 1.001 + 1e-4 * (c + 20.5) * (c + 20.5); };
  const Of right = [](double c) { return 1.0 + 5e-3 * (c - 17.75) * (c - 17.75); };
  Counted gap{[&](double c) { return std::min(left(c), right(c)); },
              [&](double from, double to) {
                return std::min(left(inside(from, to, -20.5)), right(inside(from, to, 17.75))) - 1e-3 * (to - from);
              }};
  const Least least = gap.least();
  EXPECT_NEAR(least.value, 1.0, 1e-6);
  EXPECT_NEAR(least.crank / kDegree, 17.75, 0.01);
}

}  // namespace
}  // namespace eyebrow::study
