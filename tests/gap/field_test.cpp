// Fields against closed form: a valve over a flat crown, and down a pocket that it comes beside as the piston rises.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "eyebrow/field.hpp"
#include "shapes.hpp"

namespace eyebrow {
namespace {

constexpr double kRim = 18, kPocketRadius = 20, kFloor = 8;
/// The pocket's mouth is an ellipse that the kernel fits arcs to, to 1e-7; the mesh of the plain crown is exact.
constexpr double kExact = 2e-6;

/// A tilted valve over a pocket of the same tilt, coaxial with it where the crown flat is at height 0.
struct Tilted {
  double tilt = 15 * kDegree;
  Vec3 up = tilted_axis(tilt, 0);
  Vec3 closed = 12.0 * up;
  shapes::TiltedPocket pocket{0, 0, tilt, 0, kPocketRadius, kFloor};
  ValveToPiston valve{make_target(shapes::pocketed(60, pocket)), shapes::outline(kRim, 1.5), {closed, up}, 0};

  SlideBox box(double height_low, double height_high, double lift_low, double lift_high) const {
    const Slide a = slide_of({closed, up}, {height_low, lift_low});
    const Slide b = slide_of({closed, up}, {height_high, lift_high});
    return {a.along, b.along, a.aside, b.aside};
  }
};

TEST(Slide, IsTheValvesMovementInItsOwnAxes) {
  const ValvePlace place{{}, tilted_axis(0.3, 0.7)};
  const Slide a = slide_of(place, {-4, 2}), b = slide_of(place, {-7, 3.5});
  // Two movements of the valve against the piston: -lift a - height z.
  const Vec3 moved = -1.5 * place.up + Vec3{0, 0, 3};
  EXPECT_NEAR(std::hypot(b.along - a.along, b.aside - a.aside), norm(moved), 1e-12);
  EXPECT_NEAR(b.along - a.along, -dot(moved, place.up), 1e-12);
  EXPECT_EQ(slide_of({{}, {0, 0, 1}}, {-4, 2}).aside, 0);
}

// Closed form. The rim fits between the walls while the two axes are within P - R of each other; then it reaches the
// floor, square to it. Beyond that it is caught by the mouth where the wall's line nearest to it ends at the crown
// flat.
TEST(ContactLift, JumpsWhereTheRimComesBesideTheMouth) {
  const Tilted t;
  const double sine = std::sin(t.tilt), cosine = std::cos(t.tilt);
  const ContactLift lift(t.valve, {t.box(-14, 12, 0, 3)});
  ASSERT_EQ(lift.jumps().size(), 2u);
  for (const int side : {0, 1}) {
    const ContactLift::Jump& jump = lift.jumps()[static_cast<std::size_t>(side)];
    const double way = side == 0 ? -1 : 1, height = way * (kPocketRadius - kRim) / sine;
    EXPECT_NEAR(jump.height, height, kExact / sine);
    const double floor = 12 + kFloor - height * cosine;
    // As the piston rises the valve goes aside, toward where it leans; its rim's outermost point there:
    const Vec3 rim = t.closed - Vec3{0, 0, height} + way * kRim * Vec3{cosine, 0, -sine};
    const double mouth = rim.z / cosine;
    EXPECT_NEAR(side == 0 ? jump.above : jump.below, floor, kExact);
    EXPECT_NEAR(side == 0 ? jump.below : jump.above, mouth, 1e-4) << "it falls steeply on this side";
  }
  std::mt19937 random(11);
  std::uniform_real_distribution<double> height(-7.7, 7.7), on(0, 3);
  for (int i = 0; i < 200; ++i) {
    const Pose pose{height(random), on(random)};
    const FieldGap travel = lift.travel(pose);
    EXPECT_NEAR(travel.value, 12 + kFloor - pose.height * cosine - pose.lift, kExact);
    EXPECT_LE(travel.low, travel.value);
  }
}

TEST(ContactLift, OfAnUprightValveIsOneNumber) {
  const ValveToPiston valve(make_target(shapes::plain(60)), shapes::outline(kRim, 1.5), {{3, 4, 9}, {0, 0, 1}}, -1);
  const ContactLift lift(valve, {{-20, 8, 0, 0}});
  for (const Pose pose : {Pose{-15, 2}, Pose{0, 8.5}, Pose{-3, 0}}) {
    const FieldGap travel = lift.travel(pose);
    EXPECT_NEAR(travel.value, 9 - pose.height - pose.lift, 1e-9);
    EXPECT_GE(travel.low, travel.value - 0.0006) << "half a micrometre and rounding";
    EXPECT_LE(travel.low, travel.value - 0.0005);
  }
  EXPECT_EQ(lift.travel({-25, 0}).status, FieldStatus::smooth) << "travel needs no lift of the region";
}

// Closed form: the rim's lowest point over a flat crown.
TEST(GapField, ClosestOverAFlatCrown) {
  const double tilt = 20 * kDegree;
  const ValvePlace place{{0, 0, 9}, tilted_axis(tilt, 1)};
  const ValveToPiston valve(make_target(shapes::plain(80)), shapes::outline(kRim, 1.5), place, -1);
  const Slide low = slide_of(place, {-8, 0}), high = slide_of(place, {-3, 5.8});
  const SlideBox region{low.along, high.along, low.aside, high.aside};
  const GapField field(valve, GapKind::closest, 0, {region});
  std::mt19937 random(5);
  std::uniform_real_distribution<double> unit(0, 1);
  for (int i = 0; i < 2000; ++i) {
    const Pose pose{-8 + 5 * unit(random), 5.8 * unit(random)};
    const double exact = 9 - pose.height - pose.lift * std::cos(tilt) - kRim * std::sin(tilt);
    const FieldGap at = field.at(pose);
    if (at.status == FieldStatus::outside) continue;
    ASSERT_GT(exact, 0);
    EXPECT_LE(at.low, exact - 0.0005);
    EXPECT_NEAR(at.value, exact, exact < 3 ? 5e-4 : 5e-4 + 0.02 * (exact - 3));
  }
  // Over a box: no less than its lowest corner, and not told to be much less.
  const Slide a = slide_of(place, {-3.8, 4.8});
  const SlideBox box{a.along, a.along + 0.3, a.aside, a.aside + 0.2};
  double least = INFINITY, most = -INFINITY;
  for (const double along : {box.along_low, box.along_high})
    for (const double aside : {box.aside_low, box.aside_high}) {
      const double height = aside / std::sin(tilt), lift = along - std::cos(tilt) * height;
      const double exact = 9 - height - lift * std::cos(tilt) - kRim * std::sin(tilt);
      least = std::min(least, exact);
      most = std::max(most, exact);
    }
  EXPECT_LE(field.within(box).low, least - 0.0005);
  EXPECT_GE(field.within(box).low, least - 0.1) << "no more than the cells that the box touches";
  EXPECT_GE(field.within(box).high, most - 5e-4);
  EXPECT_EQ(field.at({-20, 0}).status, FieldStatus::outside);
}

// Closed form: a rim's point beside the crown's edge, both in the plane that the valve moves in: a distance from a
// point, which bends as much as any. Coarse cells, so that what lies between their corners is seen.
TEST(GapField, LowAllowsForTheBendBetweenCorners) {
  const double tilt = 20 * kDegree, radius = 30;
  const Vec3 up = tilted_axis(tilt, 0), out{-std::cos(tilt), 0, std::sin(tilt)};
  const ValvePlace place{Vec3{radius + 0.5, 0, 0.5} - kRim * out, up};
  const ValveToPiston valve(make_target(shapes::plain(radius)), shapes::outline(kRim, 1.5), place, -1);
  const SlideBox region{-0.3, 0.3, -0.3, 0.3};
  FieldAccuracy coarse;
  coarse.tolerance = 0.01;
  const GapField field(valve, GapKind::closest, 0, {region}, coarse);
  int close = 0, asked = 0;
  for (double along = region.along_low; along <= region.along_high; along += 0.003)
    for (double aside = region.aside_low; aside <= region.aside_high; aside += 0.003) {
      const double height = aside / std::sin(tilt), lift = along - std::cos(tilt) * height;
      const Vec3 centre = place.closed - lift * place.up - Vec3{0, 0, height};
      const Vec3 off = Vec3{radius, 0, 0} - (centre + kRim * out);
      // Between the valve's face and its margin, and beyond the crown's flat: the two points are the nearest.
      if (dot(off, up) > 0 || dot(off, out) < 0 || off.x > 0 || off.z > 0) continue;
      ++asked;
      const FieldGap at = field.at({height, lift});
      EXPECT_LE(at.low, norm(off) - 0.0005 + 1e-9);
      close += at.low > norm(off) - 0.0005 - 0.008;
    }
  EXPECT_GT(asked, 1000);
  EXPECT_GT(close, asked / 2) << "no lower than it need be";
}

// Closed form: coaxial the rim stands P - R from the wall, moved aside by that much less. It begins to count where it
// would enter within the reach.
TEST(GapField, RadialBeginsWhereTheRimWouldEnter) {
  const Tilted t;
  const double reach = 2, sine = std::sin(t.tilt), cosine = std::cos(t.tilt);
  const GapField field(t.valve, GapKind::radial, reach, {t.box(-6, 6, 2, 22)});
  int told = 0, none = 0;
  std::mt19937 random(9);
  std::uniform_real_distribution<double> height(-6, 6), lift(2, 22);
  for (int i = 0; i < 4000; ++i) {
    const Pose pose{height(random), lift(random)};
    const FieldGap at = field.at(pose);
    if (at.status == FieldStatus::outside) continue;
    // The highest point of the mouth, over the pocket's floor, is at P tan(tilt) above its middle.
    const double rim = 12 - pose.lift - pose.height * cosine;  // over the pocket's middle at the crown flat
    const double top = kPocketRadius * std::tan(t.tilt);
    if (rim - reach > top + 0.03) {
      EXPECT_EQ(at.status, FieldStatus::none);
      ++none;
    }
    const bool within = rim - reach < -top && rim > -kFloor + 0.1;
    if (within) {
      EXPECT_EQ(at.status, FieldStatus::smooth);
      EXPECT_NEAR(at.value, kPocketRadius - kRim - std::fabs(pose.height) * sine, 2e-3) << pose.height;
      EXPECT_LE(at.low, kPocketRadius - kRim - std::fabs(pose.height) * sine - 0.0005 + 1e-5);
      ++told;
    }
  }
  EXPECT_GT(told, 200);
  EXPECT_GT(none, 200);
}

// Property, against the kernel: a valve less tilted than its pocket is nearest to the mouth until its margin has passed
// it, and then further the deeper it stands. What holds for the deepest place of a cell does not hold for all of it.
TEST(GapField, LowHoldsWhereTheMarginPassesTheMouth) {
  const Tilted t;
  const Vec3 up = tilted_axis(t.tilt - 10 * kDegree, 0);
  const Vec3 closed = Vec3{-1.2, 0, 0} + 12.0 * up;
  const ValveToPiston valve(make_target(shapes::pocketed(60, t.pocket)), shapes::outline(kRim, 1.5), {closed, up}, 0);
  const double reach = 0.2;
  const GapRequest request{false, false, true, false, false, reach};
  const Slide low = slide_of({closed, up}, {0, 8}), high = slide_of({closed, up}, {0.5, 17});
  FieldAccuracy coarse;
  coarse.tolerance = 0.05;
  coarse.finest = 0.5;
  const GapField field(valve, GapKind::radial, reach, {{low.along, high.along, low.aside, high.aside}}, coarse);
  int told = 0;
  double grows = 0;
  for (double height = 0.05; height < 0.45; height += 0.05)
    for (double lift = 8.2; lift < 16.8; lift += 0.01) {
      const Pose pose{height, lift};
      const Gap exact = valve.gaps(pose, request).radial;
      const FieldGap at = field.at(pose);
      if (!exact.measured() || at.status == FieldStatus::outside) continue;
      ++told;
      EXPECT_LE(at.low, exact.low + 1e-9) << height << ' ' << lift;
      grows = std::max(grows, exact.value - valve.gaps({height, lift - 0.3}, request).radial.value);
    }
  EXPECT_GT(told, 2000);
  EXPECT_GT(grows, 0.02) << "it does get further";
}

}  // namespace
}  // namespace eyebrow
