// The way along a line to a convex solid of revolution: against the closed-form meeting of a line with a valve's
// outline, and what it says of other lines against those lines.
#include "gap/way.hpp"

#include <gtest/gtest.h>

#include "gap/ball_cut.hpp"
#include "gap/exact_functions.hpp"
#include "gap/outline.hpp"
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

// Out of a cone: the bound holds for every place of the cone about the one that it is of, however far the valve reaches
// into it.
TEST(Way, OutOfAConeBoundsTheOthers) {
  int bounded = 0, inside = 0, missed = 0;
  double closest = kInfinity;  // of a bound to what it bounds, over a millimetre
  for (int i = 0; i < 600; ++i) {
    Lines lines(3000 + static_cast<unsigned long long>(i), i % 3);
    Dice& dice = lines.dice;
    const ConvexOutline& head = lines.pieces.front();
    Face cone;
    cone.kind = Surface::cone;
    cone.frame = frame_about({dice.between(-25, 25), dice.between(-25, 25), dice.between(-8, 2)}, lines.n);
    cone.radius = dice.between(8, 25);
    cone.radius2 = -dice.between(0.1, 1.5);  // narrower upward
    SheetForm form;
    ASSERT_TRUE(form_of(cone, form));
    const double best = kInfinity;
    const ConeWays ways{head, cone.frame.origin, cone.frame.z, std::cos(cone.radius2), -std::sin(cone.radius2), best};
    for (int k = 0; k < 60; ++k) {
      const double u = dice.between(-kPi, kPi), v = dice.between(-4, 0.8 * cone.radius / std::tan(-cone.radius2));
      const auto place = [&](double du, double dv) {
        return Sheet(form, Turn(u), Turn(u + du), Turn(v), Turn(v + dv));
      };
      const Sheet from = place(0, 0), to = place(dice.decades(-5, 0) * (k % 2 ? 1 : -1), dice.decades(-4, 0.5));
      const Vec3 q = from.centre, p = k % 3 ? to.at(to.u[1], to.v[0]) : to.at(to.u[1], to.v[1]);
      const double spread = norm(p - q);
      const Way here = ways.at(q, spread), there = ways.at(p, 0);
      EXPECT_LT(norm(ways.ray(q) - off_surface_gradient(cone, q)), 1e-12);
      if (!there.met) continue;
      EXPECT_LE(ways.floor(q, spread), there.length + kRounding) << i << ", " << k;
      if (!here.met) {
        ++missed;
        continue;
      }
      double value = 0;
      ASSERT_TRUE(ways.counts(q, 0, value));
      EXPECT_NEAR(value, way_to(head, q, ways.ray(q)).length, 1e-12);
      EXPECT_LE(here.length, value);
      const double bound = here.length + dot(here.slope, p - q);
      EXPECT_LE(bound, there.length + kRounding * (1 + norm(here.slope))) << i << ", " << k << ": " << spread;
      ++bounded;
      inside += there.length < 0;
      if (spread > 0.01) closest = std::min(closest, (there.length - bound) / (spread * spread));
    }
  }
  EXPECT_GT(bounded, 3000);
  EXPECT_GT(inside, 300);
  EXPECT_GT(missed, 30);
  EXPECT_LT(closest, 0.1) << "what is left out is of the second order";
}

/// A face's sheet that lies anywhere about the valve's axis.
Sheet sheet_about(Dice& dice, const Face& face, SheetForm& form) {
  EXPECT_TRUE(form_of(face, form));
  const bool round = face.kind == Surface::torus || face.kind == Surface::sphere;
  const double u = dice.between(-3, 3), v = round ? dice.between(0.3, 1.25) : dice.between(-4, 8);
  const double du = dice.decades(-4, -0.5), dv = dice.decades(-4, -0.5);
  return Sheet(form, Turn(u - du), Turn(u + du), Turn(v - dv), Turn(v + dv));
}

/// What is skipped is least on its border, by samples over it.
template <class Function>
void expect_border(const Function& function, const Sheet& sheet, int& skipped, int& within_less) {
  const bool said = function.skips(sheet.centre, sheet);
  constexpr int kGrid = 10, kAlong = 400;
  const auto value_at = [&](double a, double b) {
    const auto part = [](const std::array<Turn, 2>& of, double share) {
      return Turn(of[0].angle + (of[1].angle - of[0].angle) * share);
    };
    const Vec3 q = sheet.at(part(sheet.u, a), part(sheet.v, b));
    double value = 0;
    return function.at(q, 0).met && function.counts(q, 0, value) ? value : kInfinity;
  };
  double border = kInfinity, within = kInfinity;
  for (int a = 1; a < kGrid; ++a)
    for (int b = 1; b < kGrid; ++b) within = std::min(within, value_at(1.0 * a / kGrid, 1.0 * b / kGrid));
  for (int side = 0; side < 4; ++side) {
    const auto along = [&](double t) { return side < 2 ? value_at(t, side) : value_at(side - 2, t); };
    double least = kInfinity, at = 0;
    const auto take = [&](double t) {
      const double value = t < 0 || t > 1 ? kInfinity : along(t);
      if (value < least) least = value, at = t;
    };
    for (int k = 0; k <= kAlong; ++k) take(1.0 * k / kAlong);
    for (double step = 1.0 / kAlong; step > 1e-9; step /= 2) {
      const double middle = at;
      take(middle - step);
      take(middle + step);
    }
    border = std::min(border, least);
  }
  skipped += said;
  within_less += within < border - 1e-9;
  if (said) {
    EXPECT_LE(border, within + 1e-9);
  }
}

// Balls, cones and tori of every size about and beside the axis, the valve over them or deep in them.
TEST(Way, WhatASearchSkipsIsLeastOnItsBorder) {
  Dice dice(31);
  int skipped[2] = {}, within[2] = {}, under_stem = 0;
  for (int i = 0; i < 12000; ++i) {
    SCOPED_TRACE(i);
    const Profile profile = filled_outline(random_parts::valve(dice, i % 3, dice.between(12, 22)));
    const std::vector<ConvexOutline> pieces = convex_pieces(profile);
    const ConvexOutline hull = upright_hull(profile);
    const ProfileDistance distance(profile);
    Face face;
    face.kind = std::array{Surface::sphere, Surface::cone, Surface::torus}[static_cast<std::size_t>(dice.below(3))];
    face.frame = frame_about({dice.between(-15, 15), dice.between(-15, 15), dice.between(-3, 3)},
                             unit(Vec3{0, 0, 1} + dice.decades(-6, -0.3) * dice.direction()));
    face.radius = dice.decades(0.5, 2.5);
    face.radius2 = face.kind == Surface::torus ? dice.between(0.2, 2) : dice.between(-1.5, 1.5);
    if (face.kind == Surface::sphere)
      face.frame.origin = face.frame.origin - dice.between(0.7, 1.1) * face.radius * face.frame.z;
    SheetForm form;
    Sheet sheet = sheet_about(dice, face, form);
    if (i % 2) {  // to where the valve is, and a third of them with a normal along its axis
      if (i % 3 == 0) {
        const double dip = std::acos(std::clamp(normal_at_centre(sheet).z, -1.0, 1.0));
        const Vec3 about = unit(cross(normal_at_centre(sheet), {0, 0, 1}) + Vec3{1e-12, 0, 0});
        const auto turned = [&](Vec3 v) {
          return std::cos(dip) * v + std::sin(dip) * cross(about, v) + (1 - std::cos(dip)) * dot(about, v) * about;
        };
        form.x = turned(form.x), form.y = turned(form.y), form.z = turned(form.z);
        sheet = Sheet(form, sheet.u[0], sheet.u[1], sheet.v[0], sheet.v[1]);
      }
      form.origin = form.origin - sheet.centre + Vec3{dice.between(-8, 8), dice.between(-8, 8), dice.between(-2, 4)};
      sheet = Sheet(form, sheet.u[0], sheet.u[1], sheet.v[0], sheet.v[1]);
    }
    const Depth depth{pieces.front(), hull, stem_side(profile), distance};
    expect_border(AxialWays{pieces.front()}, sheet, skipped[0], within[0]);
    if (depth.at(sheet.centre, 0).length > -2 * sheet.radius) continue;
    under_stem += radius_of(sheet.centre) - sheet.radius < depth.stem.r && depth.skips(sheet.centre, sheet);
    expect_border(depth, sheet, skipped[1], within[1]);
  }
  for (int k : {0, 1}) {
    EXPECT_GT(skipped[k], 300) << k << ": one that never says so says little";
    EXPECT_GT(within[k], 100) << k;
  }
  EXPECT_GT(under_stem, 30);
}

// A ball that a valve reaches into is cut in a place of both.
TEST(Way, ABallIsCutWhereTheValveIs) {
  Dice dice(33);
  int cut = 0, below = 0;
  for (int i = 0; i < 4000; ++i) {
    const ConvexOutline head =
        convex_pieces(filled_outline(random_parts::valve(dice, i % 6, dice.between(12, 22)))).front();
    const double radius = dice.between(10, 300);
    const Vec3 toward = unit(Vec3{0, 0, -1} + dice.between(0, 0.9) * dice.direction());
    const Vec3 middle = (radius + dice.between(-9, 2)) * toward;
    const BallCut near = ball_cut(head, middle, radius);
    const auto outside = [&](Vec3 q) {
      double dr = 0, dw = 0;
      return head.eval(radius_of(q), q.z, dr, dw);
    };
    EXPECT_NEAR(norm(near.foot - middle), radius, 1e-9);
    EXPECT_NEAR(near.height, outside(middle) - radius, 1e-12);
    if (near.height >= 0) {
      EXPECT_NEAR(outside(near.foot), near.height, 1e-9);
    } else if (norm(near.cut - near.foot) > 0) {
      ++cut;
      EXPECT_NEAR(norm(near.cut - middle), radius, 1e-9);
      EXPECT_LE(outside(near.cut), 1e-9);
    } else {
      ++below;
    }
  }
  EXPECT_GT(cut, 1500);
  EXPECT_GT(below, 1);
}

}  // namespace
}  // namespace eyebrow::gap
