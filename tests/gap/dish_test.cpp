// A dish's hollow: the depth beside it, what that says of the places around, and where it is greatest on a plane; all
// against samples of the outline's own distance.
#include "gap/dish.hpp"

#include <gtest/gtest.h>

#include "gap/convex_line.hpp"
#include "gap/dish_plane.hpp"
#include "gap/outline.hpp"
#include "random_parts.hpp"

namespace eyebrow::gap {
namespace {

using random_parts::Dice;

constexpr int kDished[] = {3, 5};  // kinds of valve

struct Dished {
  Profile profile;
  ProfileDistance distance;
  Profile filled;
  std::vector<ConvexOutline> pieces;
  std::optional<Dish> dish;
  double stem_radius = 1e9;

  Dished(Dice& dice, int kind)
      : profile(random_parts::valve(dice, kind, dice.between(12, 22))),
        distance(profile),
        filled(filled_outline(profile)),
        pieces(convex_pieces(filled)),
        dish(Dish::of(profile, pieces.front())) {
    for (const ProfileElement& e : profile.elements)
      if (e.part == ValvePart::stem) stem_radius = std::min(stem_radius, e.from.r);
  }
  double head(double r, double w) const {
    double dr = 0, dw = 0;
    return pieces.front().eval(r, w, dr, dw);
  }
  double greater(Vec3 q) const { return std::max(head(radius_of(q), q.z), -dish->distance(radius_of(q), q.z)); }
};

TEST(Dish, IsNothingOfAnyOtherValve) {
  Dice dice(1);
  for (const int kind : {0, 1, 2, 4}) {
    const Profile valve = random_parts::valve(dice, kind, 18);
    EXPECT_FALSE(Dish::of(valve, convex_pieces(filled_outline(valve)).front()));
  }
}

// Beside the stem.
TEST(Dish, DepthIsTheLesserOfTwoDistances) {
  Dice dice(2);
  int deep = 0, hollow = 0;
  for (int i = 0; i < 40; ++i) {
    const Dished v(dice, kDished[i % 2]);
    for (int k = 0; k < 500; ++k) {
      const double r = dice.between(v.stem_radius, v.profile.rim_radius), w = dice.between(0, 8);
      const double expected = v.distance.eval(r, w).value, filled = v.head(r, w);
      if (filled > 0) continue;
      const double beside = v.dish->distance(r, w);
      if (expected < 0) {
        ++deep;
        EXPECT_NEAR(std::max(filled, -beside), expected, 1e-9) << "at " << r << ", " << w;
      } else {
        ++hollow;
        EXPECT_LE(beside, 1e-9) << "at " << r << ", " << w;
      }
    }
  }
  EXPECT_GT(deep, 2000);
  EXPECT_GT(hollow, 500);
}

// In the metal; of the hollow it only says that it is none.
TEST(Dish, LinearBoundHoldsAround) {
  Dice dice(3);
  int seen = 0;
  for (int i = 0; i < 40; ++i) {
    const Dished v(dice, kDished[i % 2]);
    for (int k = 0; k < 400; ++k) {
      const double r = dice.between(0, v.profile.rim_radius), w = dice.between(0, 8), aside = dice.decades(-3, 1);
      const Beside b = v.dish->beside(r, w, aside);
      if (!b.known) continue;
      EXPECT_LE(b.slope_r, 0);
      for (int m = 0; m < 20; ++m) {
        const double way = dice.between(0, 2 * kPi), far = aside * std::sqrt(dice.between(0, 1));
        const double r2 = r + far * std::cos(way), w2 = w + far * std::sin(way);
        if (r2 < 0 || v.head(r2, w2) > 0 || v.dish->distance(r2, w2) < 0) continue;
        const double bound = b.value - b.bend * far * far + b.slope_r * (r2 - r) + b.slope.z * (w2 - w);
        EXPECT_LE(bound, -v.dish->distance(r2, w2) + 1e-9) << r << ", " << w << " to " << r2 << ", " << w2;
        ++seen;
      }
      if (v.dish->distance(r, w) > 0)
        EXPECT_NEAR(b.value, -v.dish->distance(r, w), 1e-9);
      else
        EXPECT_GE(b.value, 0);
    }
  }
  EXPECT_GT(seen, 20000);
}

// Under the lid and in the hollow.
TEST(Dish, BelowIsTheDistanceFromTheValve) {
  Dice dice(7);
  int ball = 0, lip = 0, around = 0;
  for (int i = 0; i < 40; ++i) {
    const Dished v(dice, kDished[i % 2]);
    const double reach = v.dish->lip_radius();
    EXPECT_TRUE(std::isinf(v.dish->below(reach + 1e-6, 0, 0).value));
    for (int k = 0; k < 400; ++k) {
      const double r = dice.between(0, reach), w = dice.between(-6, v.profile.elements.front().from.w);
      const double expected = v.distance.eval(r, w).value, aside = dice.decades(-3, 1);
      const Beside b = v.dish->below(r, w, aside);
      if (w > v.profile.elements.front().to.w && v.dish->distance(r, w) > 0) continue;  // in the metal or above it
      EXPECT_NEAR(b.value, expected, 1e-9) << "at " << r << ", " << w;
      const ElementView face = v.distance.view(0, r, w);
      ++(face.inside_by >= 0 ? ball : lip);
      EXPECT_EQ(b.known, r + aside <= reach);
      if (!b.known) continue;
      EXPECT_LE(b.slope_r, 0);
      for (int m = 0; m < 20; ++m) {
        const double way = dice.between(0, 2 * kPi), far = aside * std::sqrt(dice.between(0, 1));
        const double r2 = r + far * std::cos(way), w2 = w + far * std::sin(way);
        if (r2 < 0 || v.distance.eval(r2, w2).value < 0) continue;
        const double bound = b.value - b.bend * far * far + b.slope_r * (r2 - r) + b.slope.z * (w2 - w);
        EXPECT_LE(bound, v.distance.eval(r2, w2).value + 1e-9) << r << ", " << w << " to " << r2 << ", " << w2;
        ++around;
      }
    }
  }
  EXPECT_GT(ball, 2000);
  EXPECT_GT(lip, 300);
  EXPECT_GT(around, 40000);
}

// No sample of a disc is deeper, and on a level plane, where nothing is lost, one is as deep.
TEST(Dish, BoundUnderTheStemHolds) {
  Dice dice(8);
  int deep = 0;
  for (int i = 0; i < 200; ++i) {
    const Dished v(dice, kDished[i % 2]);
    const ConvexOutline upright = upright_hull(v.filled);
    const Depth depth{v.pieces.front(), upright, stem_side(v.profile), v.distance};
    const bool level = i % 4 == 0;
    const Vec3 normal = level ? Vec3{0, 0, 1} : unit(Vec3{0, 0, 1} + dice.between(0, 0.7) * dice.direction());
    const Vec3 axis{0, 0, dice.between(-1, 6)};
    const Frame plane = frame_about(axis, normal);
    const double bound = bound_under_stem(axis, normal, depth, *v.dish, 0.0);
    double least = 1e9;
    for (int k = 0; k < 2000; ++k) {
      const double far = v.stem_radius / std::fabs(normal.z) * std::sqrt(dice.between(0, 1)), t = dice.between(0, 7);
      const Vec3 q = axis + far * std::cos(t) * plane.x + far * std::sin(t) * plane.y;
      if (radius_of(q) > v.stem_radius) continue;
      const double value = v.distance.eval(radius_of(q), q.z).value;
      least = std::min(least, value);
      EXPECT_TRUE(value >= bound - 1e-9 || value >= 0) << i << ": " << value << " at " << radius_of(q);
    }
    if (least < -1e-3) ++deep;
    if (level && least < -1e-3 && axis.z < 3) {
      EXPECT_NEAR(bound, least, 0.05) << i;
    }
  }
  EXPECT_GT(deep, 50);
}

// Against marching: the first place along the line that is in the metal. From below, at any slant.
TEST(Dish, WayEndsAtTheBall) {
  Dice dice(6);
  int passed = 0;
  for (int i = 0; i < 40; ++i) {
    const Dished v(dice, kDished[i % 2]);
    for (int k = 0; k < 20; ++k) {
      const Vec3 n = unit(Vec3{0, 0, 1} + dice.between(0, 0.5) * dice.direction());
      const Vec3 q = Vec3{dice.between(-20, 20), dice.between(-20, 20), 0} - dice.between(0, 20) * n;
      const Beside way = v.dish->way(q, n, 0);
      if (std::isinf(way.value)) continue;
      ++passed;
      const Vec3 end = q + way.value * n;
      EXPECT_NEAR(v.dish->distance(radius_of(end), end.z), 0, 1e-9);
      EXPECT_NEAR(v.distance.eval(radius_of(end), end.z).value, 0, 1e-9);
      for (int m = 1; m < 200; ++m) {  // outside the valve until then
        const Vec3 before = q + (way.value * m / 200) * n;
        EXPECT_GE(v.distance.eval(radius_of(before), before.z).value, -1e-9);
      }
      const double spread = dice.decades(-3, 1);
      const Beside around = v.dish->way(q, n, spread);
      for (int m = 0; m < 20 && around.known; ++m) {
        const Vec3 x = spread * dice.between(0, 1) * dice.direction();
        EXPECT_LE(around.value - around.error + dot(around.slope, x), v.dish->way(q + x, n, 0).value + 1e-9);
      }
    }
  }
  EXPECT_GT(passed, 200);
}

/// Least of what is to be least on a plane, on the side of it that `part` is positive on, by a polar grid about the
/// place nearest to the valve's axis and a pattern search from the best.
double least_sampled(const Dished& v, const Vec3& origin, const Frame& plane, const Vec3& cut, double offset) {
  const auto at = [&](double x, double y) { return origin + x * plane.x + y * plane.y; };
  const auto value = [&](double x, double y) {
    const Vec3 q = at(x, y);
    return dot(cut, q) < offset ? 1e9 : v.greater(q);
  };
  double best = 1e9, bx = 0, by = 0;
  const double most = 2.5 * v.profile.rim_radius;
  constexpr int kAcross = 160;
  for (int i = 0; i <= kAcross; ++i)
    for (int k = 0; k <= kAcross; ++k) {
      const double x = most * (2.0 * i / kAcross - 1), y = most * (2.0 * k / kAcross - 1);
      const double here = value(x, y);
      if (here < best) {
        best = here;
        bx = x;
        by = y;
      }
    }
  for (double step = most / kAcross; step > 1e-7; step *= 0.7)
    for (int turn = 0; turn < 16; ++turn) {
      const double x = bx + step * std::cos(turn * kPi / 8), y = by + step * std::sin(turn * kPi / 8);
      const double here = value(x, y);
      if (here < best) {
        best = here;
        bx = x;
        by = y;
      }
    }
  return best;
}

/// The least on the line where the cut meets the plane, sampled.
double least_on_cut(const Dished& v, const Vec3& origin, const Vec3& normal, const Vec3& cut, double offset) {
  const Vec3 along = unit(cross(normal, cut)), across = cross(along, normal);
  const Vec3 from = origin + ((offset - dot(cut, origin)) / dot(cut, across)) * across;
  double best = 1e9;
  constexpr int kSteps = 40000;
  for (int i = 0; i <= kSteps; ++i) best = std::min(best, v.greater(from + (120.0 * (2.0 * i / kSteps - 1)) * along));
  return best;
}

// The whole plane, and what is left of it beyond a line: there the line may have the least, else a known place has.
// What is told of a place is so, so that samples can only be no less.
TEST(Dish, PlacesOnAPlaneHoldItsLeast) {
  Dice dice(4);
  int inside = 0, level = 0;
  for (int i = 0; i < 240; ++i) {
    SCOPED_TRACE(i);
    const Dished v(dice, kDished[i % 2]);
    const bool flat = i % 5 == 0;
    const Vec3 normal =
        flat ? Vec3{0, 0, dice.below(2) ? 1.0 : -1.0} : unit(Vec3{0, 0, 1} + dice.decades(-3, 1) * dice.direction());
    const Vec3 axis{0, 0, dice.between(-1, 6)};
    const Frame plane = frame_about(axis, normal);
    const Vec3 cut = dice.direction();
    const double offset = i % 3 == 0 ? -1e3 : dot(cut, axis) + dice.between(-15, 15);
    double known = 1e9;
    places_on_plane(axis, normal, v.pieces.front(), *v.dish, 0.0, [&](Vec3 q, double bound) {
      EXPECT_NEAR(dot(normal, q - axis), 0, 1e-9);
      EXPECT_NEAR(v.greater(q), bound, 1e-9);
      if (dot(cut, q) >= offset) known = std::min(known, bound);
    });
    const double sampled = least_sampled(v, axis, plane, cut, offset);
    const double least = offset == -1e3 ? known : std::min(known, least_on_cut(v, axis, normal, cut, offset));
    if (sampled < -1e-6) {
      ++inside;
      level += flat;
      EXPECT_LE(least, sampled + (least == known ? 1e-9 : 5e-3));
    }
  }
  EXPECT_GT(inside, 100);
  EXPECT_GT(level, 20);
}

// (x - 1)^2 - 4 and |x - 3| - 1: least and zeros in closed form.
TEST(ConvexLine, LeastAndZeros) {
  const auto square = [](double x) { return Tangent{(x - 1) * (x - 1) - 4, 2 * (x - 1)}; };
  const auto corner = [](double x) { return Tangent{std::fabs(x - 3) - 1, x < 3 ? -1.0 : 1.0}; };
  const Lowest low = lowest_between(-20, 30, square, -INFINITY, INFINITY);
  EXPECT_NEAR(low.at, 1, 1e-5);
  EXPECT_NEAR(low.value, -4, 1e-11);
  EXPECT_LE(low.bound, -4);
  EXPECT_NEAR(lowest_between(2, 30, square, -INFINITY, INFINITY).value, -3, 1e-11);
  EXPECT_NEAR(lowest_between(-20, 30, corner, -INFINITY, INFINITY).value, -1, 1e-11);
  const auto zeros = not_positive(-20, 30, square);
  ASSERT_TRUE(zeros);
  EXPECT_NEAR(zeros->first, -1, 1e-10);
  EXPECT_NEAR(zeros->second, 3, 1e-10);
  const auto within = not_positive(0, 3.5, corner);
  ASSERT_TRUE(within);
  EXPECT_NEAR(within->first, 2, 1e-10);
  EXPECT_EQ(within->second, 3.5);
  EXPECT_FALSE(not_positive(-20, 1.5, corner));
}

}  // namespace
}  // namespace eyebrow::gap
