// An outline widened for what a valve moves holds the valve at every such place, and is exact where the face is flat.
#include <gtest/gtest.h>

#include <cmath>

#include "../../src/gap/convex_outline.hpp"
#include "../../src/gap/outline.hpp"
#include "../../src/gap/profile_distance.hpp"
#include "random_parts.hpp"

namespace eyebrow::gap {
namespace {

using random_parts::Dice;

/// A point of an element, `t` of the way along it.
Point2 point_on(const ProfileElement& e, double t) {
  if (e.radius == 0) return {e.from.r + t * (e.to.r - e.from.r), e.from.w + t * (e.to.w - e.from.w)};
  const double a = std::atan2(e.from.w - e.centre.w, e.from.r - e.centre.r);
  const double turn = std::remainder(std::atan2(e.to.w - e.centre.w, e.to.r - e.centre.r) - a, 2 * kPi);
  return {e.centre.r + e.radius * std::cos(a + t * turn), e.centre.w + e.radius * std::sin(a + t * turn)};
}

TEST(Widened, HoldsTheValveWhereverItMoved) {
  Dice dice(5);
  for (int valve = 0; valve < 6; ++valve)
    for (int i = 0; i < 60; ++i) {
      const Profile profile = random_parts::valve(dice, valve, dice.between(12, 22));
      const double sideways = dice.below(4) == 0 ? 0 : dice.decades(-4, 0.5);
      const double up = dice.below(4) == 0 ? 0 : dice.decades(-4, 0.5);
      const Profile widened = widened_outline(profile, sideways, up);
      const ProfileDistance distance(widened);
      double furthest = -1e9;
      for (std::size_t k = 0; k + 1 < profile.elements.size(); ++k)  // not the cut end of the stem
        for (int j = 0; j < 40; ++j) {
          const Point2 p = point_on(profile.elements[k], j / 39.0);
          const double way = j % 3 == 0 ? 1 : dice.between(0, 1), turn = j % 2 == 0 ? 0 : dice.between(0, kPi);
          const double r = std::hypot(p.r + way * sideways * std::cos(turn), way * sideways * std::sin(turn));
          const double w = p.w + (j % 5 == 0 ? 1 : dice.between(0, 1)) * up;
          const double out = distance.eval(r, w).value;
          furthest = std::max(furthest, out);
          ASSERT_LE(out, 1e-9) << random_parts::kValves[valve] << " sideways " << sideways << " up " << up
                               << " element " << k << " at " << p.r << " " << p.w;
        }
      EXPECT_GE(furthest, -1e-9) << "no larger than it need be at the rim";
      EXPECT_NEAR(widened.rim_radius, profile.rim_radius + sideways, 1e-12);
      if (valve < 2) {
        EXPECT_EQ(widened.lowest, profile.lowest);
      }
    }
}

/// The rounding takes up the whole margin, which is then no piece of its own.
TEST(Widened, HoldsAValveWithoutAMargin) {
  Profile profile;
  profile.elements = {
      {ValvePart::face, {0, 0}, {14, 0}, {}, 0, true},  {ValvePart::rim_edge, {14, 0}, {15, 1}, {14, 1}, 1, true},
      {ValvePart::seat, {15, 1}, {13, 3}, {}, 0, true}, {ValvePart::underhead, {13, 3}, {3, 7}, {}, 0, true},
      {ValvePart::stem, {3, 7}, {3, 60}, {}, 0, true},  {ValvePart::stem, {3, 60}, {0, 60}, {}, 0, true}};
  profile.rim_radius = 15;
  profile.margin = profile.edge_radius = 1;
  profile.top = 60;
  EXPECT_EQ(margin_of(profile.elements), 1u);
  for (const double sideways : {0.0, 0.4})
    for (const double up : {0.0, 0.3, 2.0}) {
      const ProfileDistance distance(widened_outline(profile, sideways, up));
      double furthest = -1e9;
      for (std::size_t k = 0; k + 1 < profile.elements.size(); ++k)
        for (int j = 0; j < 40; ++j)
          for (const double share : {0.0, 0.5, 1.0}) {
            const Point2 p = point_on(profile.elements[k], j / 39.0);
            furthest = std::max(furthest, distance.eval(p.r + share * sideways, p.w + share * up).value);
          }
      EXPECT_NEAR(furthest, 0, 1e-9) << sideways << " " << up;
    }
  const ConvexOutline hull = upright_hull(profile);
  double dr = 0, dw = 0;
  for (const ProfileElement& e : profile.elements) EXPECT_LE(hull.eval(e.to.r, e.to.w, dr, dw), 1e-9);
  EXPECT_NEAR(hull.eval(16, 20, dr, dw), 1, 1e-9) << "the margin carried up";
}

TEST(Widened, NothingToAddChangesNothing) {
  Dice dice(6);
  for (int valve = 0; valve < 6; ++valve) {
    const Profile profile = random_parts::valve(dice, valve, 15);
    const Profile same = widened_outline(profile, 0, 0);
    const ProfileDistance a(profile), b(same);
    for (int i = 0; i < 200; ++i) {
      const double r = dice.between(0, 25), w = dice.between(-5, 25);
      EXPECT_NEAR(a.eval(r, w).value, b.eval(r, w).value, 1e-9) << random_parts::kValves[valve];
    }
  }
}

}  // namespace
}  // namespace eyebrow::gap
