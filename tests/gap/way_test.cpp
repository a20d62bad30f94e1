// The way along a line to a convex solid of revolution: against the closed-form meeting of a line with a valve's
// outline, and what it says of other lines against those lines.
#include "gap/way.hpp"

#include <gtest/gtest.h>

#include "gap/exact_functions.hpp"
#include "gap/ray.hpp"
#include "random_parts.hpp"

namespace eyebrow::gap {
namespace {

using random_parts::Dice;

constexpr double kRounding = 1e-7;  // Newton's method ends 1e-9 from the solid, on a line that may graze it

struct Lines {
  Dice dice;
  Profile profile;
  std::vector<ConvexOutline> pieces;
  Vec3 n;
  Lines(unsigned long long seed, int kind)
      : dice(seed), profile(random_parts::valve(dice, kind, dice.between(12, 22))), pieces(convex_pieces(profile)) {
    n = unit(Vec3{0, 0, 1} + dice.between(0, 0.9) * dice.direction());
    if (n.z < 0.1) n = {0, 0, 1};
  }
  Vec3 start() { return Vec3{dice.between(-25, 25), dice.between(-25, 25), dice.between(-12, -4)}; }
};

TEST(Way, EndsWhereTheLineMeetsTheValve) {
  int met = 0, missed = 0;
  for (int i = 0; i < 300; ++i) {
    Lines lines(static_cast<unsigned long long>(i), i % 3);  // sharp, rounded, domed
    const ProfileDistance distance(lines.profile);
    for (int k = 0; k < 20; ++k) {
      const Vec3 p = lines.start();
      double way = kInfinity;
      for (const ConvexOutline& piece : lines.pieces)
        if (const Way w = way_to(piece, p, lines.n); w.met) way = std::min(way, w.length);
      const Meeting meeting = first_meeting(distance, p, lines.n);
      ASSERT_EQ(way < kInfinity, meeting.met) << i << ", " << k;
      if (meeting.met) {
        EXPECT_NEAR(way, meeting.at, 1e-6) << i << ", " << k;
      }
      ++(meeting.met ? met : missed);
    }
  }
  EXPECT_GT(met, 1000);
  EXPECT_GT(missed, 1000);
}

// One line's way bounds every other's, near or far; where it misses, it tells where no line meets.
TEST(Way, BoundsTheOthers) {
  int bounded = 0, parted = 0;
  double closest = kInfinity;  // of a bound to what it bounds, a millimetre away
  for (int i = 0; i < 300; ++i) {
    Lines lines(1000 + static_cast<unsigned long long>(i), i % 3);
    const ConvexOutline& head = lines.pieces.front();
    for (int k = 0; k < 60; ++k) {
      const Vec3 p = lines.start(), q = p + lines.dice.decades(-4, 1) * lines.dice.direction();
      const Way here = way_to(head, p, lines.n), there = way_to(head, q, lines.n);
      if (!there.met) continue;
      if (here.met) {
        const double bound = here.length + dot(here.slope, q - p);
        EXPECT_LE(bound, there.length + kRounding * (1 + norm(here.slope))) << i << ", " << k;
        if (norm(q - p) < 1) closest = std::min(closest, there.length - bound);
        ++bounded;
      } else {
        EXPECT_LE(dot(here.outside, q - p), -here.by + kRounding) << i << ", " << k;
        ++parted;
      }
      EXPECT_LE(least_way(head, p, lines.n, norm(q - p)), there.length + kRounding);
    }
  }
  EXPECT_GT(bounded, 500);
  EXPECT_GT(parted, 100);
  EXPECT_LT(closest, 1e-6) << "a bound that is never near says nothing";
}

// Straight up the same in closed form, with what it says about the axis.
TEST(Way, UpTheAxisIsTheSame) {
  int met = 0;
  for (int i = 0; i < 300; ++i) {
    Lines lines(2000 + static_cast<unsigned long long>(i), i % 3);
    const ConvexOutline& head = lines.pieces.front();
    const AxialWays ways{head};
    for (int k = 0; k < 20; ++k) {
      const Vec3 p = lines.start(), q = p + lines.dice.decades(-4, 1) * lines.dice.direction();
      const Way newton = way_to(head, p, {0, 0, 1}), here = ways.at(p, 0), there = ways.at(q, 0);
      ASSERT_EQ(here.met, newton.met);
      if (!here.met || !there.met) continue;
      double value = 0, other = 0;
      ASSERT_TRUE(ways.counts(p, 0, value) && ways.counts(q, 0, other));
      EXPECT_NEAR(value, newton.length, 1e-6);
      EXPECT_LE(here.length + dot(here.slope, q - p) + here.slope_r * (radius_of(q) - radius_of(p)), other + kRounding);
      EXPECT_LE(ways.floor(p, norm(q - p)), other + kRounding);
      ++met;
    }
  }
  EXPECT_GT(met, 500);
}

}  // namespace
}  // namespace eyebrow::gap
