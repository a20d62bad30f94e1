// Gaps against closed form, each derived beside its check. Tolerances: 5 um, and the interval must hold the exact
// value.
#include <gtest/gtest.h>

#include "shapes.hpp"

namespace eyebrow {
namespace {

constexpr double kClose = 0.005;

struct Case {
  double rim = 18, margin = 1.4, edge = 0;
};

void expect_gap(const Gap& gap, double exact, const char* what) {
  ASSERT_TRUE(gap.measured()) << what;
  EXPECT_NEAR(gap.value, exact, kClose) << what;
  EXPECT_LE(gap.low, exact + 1e-9) << what;
  EXPECT_GE(gap.high, exact - 1e-9) << what;
}

PoseGaps ask(const Crown& crown, const Profile& profile, Vec3 closed, Vec3 up, int pocket, double height, double lift,
             double reach = 2) {
  const ValveToPiston pair(make_target(crown), profile, {closed, up}, pocket);
  GapRequest request;
  request.reach = reach;
  return pair.gaps({height, lift}, request);
}

// A tilted valve over a flat crown: the rim's lowest point at height h above it. Face h, travel h / cos g, closest h.
TEST(ClosedForm, TiltedValveOverFlatCrown) {
  for (const double g : {0.0, 5.0, 12.0, 23.0, 40.0}) {
    for (const double h : {0.05, 1.0, 2.5}) {
      const double tilt = g * kDegree, rim = 18;
      const Vec3 up = tilted_axis(tilt, 0.3);
      const Vec3 centre{2, -3, h + rim * std::sin(tilt)};
      const PoseGaps gaps = ask(shapes::plain(60), shapes::outline(rim, 1.4), centre, up, -1, 0, 0);
      expect_gap(gaps.face, h, "face");
      expect_gap(gaps.closest, h, "closest");
      expect_gap(gaps.travel, h / std::cos(tilt), "travel");
      EXPECT_EQ(gaps.radial.status, GapStatus::not_in_reach);
    }
  }
}

// A shelf of metal, its edge at x = e, hides the flat beyond it. The rim plane over the flat is at c - x tan g, lowest
// where the shelf is, so the least that a foot sees is at the shelf's edge: c - e tan g. Travel and closest meet the
// shelf itself: on the way the rim moves (above - shelf) tan g toward its edge, and e is less than where it comes down.
// It may hide a sliver of feet, as an overhanging pocket wall does, or most; where it reaches past the valve it leaves
// none.
TEST(ClosedForm, FaceGapIsNotLookedForThroughMetal) {
  const double tilt = 12 * kDegree, rim = 18, above = 2, shelf = 1, c = above + rim * std::sin(tilt);
  for (const double e : {-30.0, 4.0, 17.3}) {
    Crown crown = shapes::plain(60, 72);
    const int first = static_cast<int>(crown.points.size());
    for (const Vec3 p : {Vec3{e, -40, shelf}, Vec3{70, -40, shelf}, Vec3{70, 40, shelf}, Vec3{e, 40, shelf}})
      crown.points.push_back(p);
    crown.faces.push_back({Surface::plane, Group::side, -1, "shelf", {{0, 0, shelf}}, 0, 0, 0});
    crown.triangles.push_back({{first, first + 1, first + 2}, 1});
    crown.triangles.push_back({{first, first + 2, first + 3}, 1});
    const PoseGaps gaps = ask(crown, shapes::outline(rim, 1.4), {0, 0, c}, tilted_axis(tilt, 0), -1, 0, 0);
    if (e < -rim) {
      EXPECT_EQ(gaps.face.status, GapStatus::no_meeting)
          << gaps.face.value << " at " << gaps.face.on_other.x << ", " << gaps.face.on_other.y;
    } else {
      expect_gap(gaps.face, c - e * std::tan(tilt), "face");
    }
    expect_gap(gaps.travel, (above - shelf) / std::cos(tilt), "travel");
    expect_gap(gaps.closest, above - shelf, "closest");
  }
}

// The same valve pushed d below the crown. Face: minus how deep the rim reaches, -d. Travel: -d / cos g.
// Closest: a point of the flat inside the sharp rim corner, depth least(d' to face, to margin): for a plane that cuts a
// corner of 90 degrees with d of it below, the deepest point of the plane within is d / (sin g + cos g) inside.
TEST(ClosedForm, TiltedValveIntoFlatCrown) {
  for (const double g : {5.0, 12.0, 23.0}) {
    for (const double d : {1e-6, 0.01, 0.2}) {
      const double tilt = g * kDegree, rim = 18;
      const Vec3 centre{0, 0, -d + rim * std::sin(tilt)};
      const PoseGaps gaps = ask(shapes::plain(60), shapes::outline(rim, 1.4), centre, tilted_axis(tilt, 0), -1, 0, 0);
      expect_gap(gaps.face, -d, "face");
      expect_gap(gaps.travel, -d / std::cos(tilt), "travel");
      expect_gap(gaps.closest, -d / (std::sin(tilt) + std::cos(tilt)), "closest");
    }
  }
}

// A valve in a pocket parallel to it, off its axis by e: face and travel the floor's distance, radial the difference of
// radii less e, closest the least of them.
TEST(ClosedForm, ValveInParallelPocket) {
  for (const double g : {0.0, 15.0, 23.0}) {
    for (const double e : {0.0, 0.3, 0.9}) {
      const double tilt = g * kDegree, rim = 18, gap = 1.5;
      shapes::TiltedPocket pocket{-4, 6, tilt, 0.7, rim + gap, 12};
      const Crown crown = shapes::pocketed(60, pocket);
      const Vec3 up = tilted_axis(tilt, 0.7);
      const Frame frame = crown.faces[1].frame;
      for (const double over : {0.4, 1.1, 2.3}) {
        const Vec3 centre = frame.origin + over * up + (e * std::cos(1.1)) * frame.x + (e * std::sin(1.1)) * frame.y;
        const PoseGaps gaps = ask(crown, shapes::outline(rim, 1.4), centre, up, 0, 0, 0);
        expect_gap(gaps.face, over, "face");
        expect_gap(gaps.travel, over, "travel");
        expect_gap(gaps.radial, gap - e, "radial");
        expect_gap(gaps.closest, std::min(over, gap - e), "closest");
      }
    }
  }
}

// A tilted valve in a parallel tilted pocket that opens through the crown, the piston dropped by d: the valve lies
// d cos g further off the floor and has walked d sin g across the pocket. Radial shrinks by d sin g on the wall it
// walks to, whichever way that is.
TEST(ClosedForm, PistonDropWalksTheRimAcrossThePocket) {
  const double tilt = 15 * kDegree, rim = 18, gap = 1.5;
  shapes::TiltedPocket pocket{-4, 6, tilt, 0, rim + gap, 12};
  const Crown crown = shapes::pocketed(60, pocket);
  const Vec3 up = tilted_axis(tilt, 0);
  const Vec3 coaxial = crown.faces[1].frame.origin + 0.8 * up;
  for (const double drop : {-2.0, 0.0, 1.0, 2.0, 4.0}) {
    const double over = 0.8 + drop * std::cos(tilt);
    const PoseGaps gaps = ask(crown, shapes::outline(rim, 1.4), coaxial, up, 0, -drop, 0, 2);
    const double walk = std::fabs(drop) * std::sin(tilt);
    expect_gap(gaps.radial, gap - walk, "radial");
    if (over > 0) expect_gap(gaps.face, over, "face");
    const double side = gaps.radial.on_other.x - gaps.radial.on_valve.x;
    if (drop != 0) {
      // The piston falls, so in its frame the valve rises: toward -x across a pocket that leans to +x.
      EXPECT_LT(side * drop, 0) << "the wall on the side it walks to";
    }
  }
}

// Entry: depth of the rim's lowest point below the crown flat.
TEST(ClosedForm, EntryIsTheLowestPointsDepth) {
  const double tilt = 15 * kDegree, rim = 18;
  shapes::TiltedPocket pocket{-4, 6, tilt, 0, rim + 1.5, 12};
  const Crown crown = shapes::pocketed(60, pocket);
  const Vec3 up = tilted_axis(tilt, 0);
  for (const double z : {-2.0, 1.0, 6.0}) {
    const PoseGaps gaps = ask(crown, shapes::outline(rim, 1.4), {-4, 6, z}, up, 0, 0, 0);
    EXPECT_NEAR(gaps.entry, rim * std::sin(tilt) - z, 1e-6);
  }
}

// Above the pocket by more than the reach: radial is not in reach; the closest gap goes to the mouth's edge.
TEST(ClosedForm, RimAboveTheMouth) {
  const double rim = 18, gap = 1.5;
  shapes::TiltedPocket pocket{0, 0, 0, 0, rim + gap, 6};
  const Crown crown = shapes::pocketed(60, pocket);
  const PoseGaps above = ask(crown, shapes::outline(rim, 1.4), {0, 0, 2.5}, {0, 0, 1}, 0, 0, 0, 2);
  EXPECT_EQ(above.radial.status, GapStatus::not_in_reach);
  expect_gap(above.closest, std::hypot(gap, 2.5), "closest to the mouth's edge");
  expect_gap(above.travel, 8.5, "travel to the floor");
  const PoseGaps about_to = ask(crown, shapes::outline(rim, 1.4), {0, 0, 2.5}, {0, 0, 1}, 0, 0, 0, 2.6);
  expect_gap(about_to.radial, gap, "a rim about to enter counts");
}

// A rim wider than its pocket: travel ends on the mouth; radial is minus the overlap.
TEST(ClosedForm, RimTooWideForItsPocket) {
  const double rim = 18;
  shapes::TiltedPocket pocket{0, 0, 0, 0, rim - 0.4, 6};
  const PoseGaps gaps = ask(shapes::pocketed(60, pocket), shapes::outline(rim, 1.4), {0, 0, 1}, {0, 0, 1}, 0, 0, 0, 2);
  expect_gap(gaps.travel, 1, "travel to the crown flat");
  expect_gap(gaps.radial, -0.4, "radial");
  expect_gap(gaps.face, 1, "face above the crown flat under the rim");
}

// Rim edge radius q, upright over a flat: face and travel to the flat face; in a coaxial pocket radial to the full rim.
TEST(ClosedForm, RoundedRimEdge) {
  const double rim = 18, edge = 0.4, g = 20 * kDegree, h = 1;
  // Tilted: the lowest point lies on the edge's arc: its centre is (rim - q, q) in the half plane, so the lowest point
  // is q below the centre's height: z0 + q cos g - (rim - q) sin g - q.
  const Vec3 up = tilted_axis(g, 0);
  const double z0 = h - edge * std::cos(g) + (rim - edge) * std::sin(g) + edge;
  const PoseGaps gaps = ask(shapes::plain(60), shapes::outline(rim, 1.4, edge), {0, 0, z0}, up, -1, 0, 0);
  expect_gap(gaps.face, h, "face");
  expect_gap(gaps.closest, h, "closest");
  // Along the axis the same lowest point: the tangent plane there is the crown's, so travel = h / cos g.
  expect_gap(gaps.travel, h / std::cos(g), "travel");
}

// Domed by 2 mm, upright over a flat: 2 mm less than the rim plane. Dished: the rim is what meets first.
TEST(ClosedForm, DomedAndDishedFaces) {
  const PoseGaps domed = ask(shapes::plain(60), shapes::outline(18, 1.4, 0, -2), {1, 2, 5}, {0, 0, 1}, -1, 0, 0);
  expect_gap(domed.face, 3, "domed face");
  expect_gap(domed.travel, 3, "domed travel");
  expect_gap(domed.closest, 3, "domed closest");
  const PoseGaps dished = ask(shapes::plain(60), shapes::outline(18, 1.4, 0, 1.5), {1, 2, 5}, {0, 0, 1}, -1, 0, 0);
  expect_gap(dished.face, 5, "dished face");
  expect_gap(dished.travel, 5, "dished travel");
  expect_gap(dished.closest, 5, "dished closest");
  // Tilted little enough that the dome, not the rim, is lowest: sphere of radius S centred on the axis.
  const double depth = 2, s = (18.0 * 18 + depth * depth) / (2 * depth), g = 4 * kDegree;
  const Vec3 up = tilted_axis(g, 1);
  const Vec3 ball = Vec3{0, 0, 10};  // centre of the dome's sphere
  const Vec3 centre = ball - (s - depth) * up;
  const PoseGaps tilted =
      ask(shapes::plain(60), shapes::outline(18, 1.4, 0, -depth), centre + Vec3{0, 0, s}, up, -1, 0, 0);
  expect_gap(tilted.closest, 10, "sphere over a plane");
  expect_gap(tilted.face, 10, "sphere over a plane");
  expect_gap(tilted.travel, 10 / std::cos(g), "sphere over a plane along the axis");
}

// Closest between a valve and a surface of another: two upright valves side by side, rims at the same height.
TEST(ClosedForm, TwoUprightValves) {
  const Profile a = shapes::outline(18, 1.4), b = shapes::outline(15, 1.6);
  const auto target = make_target(valve_surface(b, 0.0005));
  for (const double gap : {0.001, 0.8, 3.0, -0.3}) {
    const Gap g = ValveToSolid(target, a, {0, 0, 1}).closest({18 + 15 + gap, 0, 0.2}, true);
    expect_gap(g, gap, "rim to rim");
  }
}

}  // namespace
}  // namespace eyebrow
