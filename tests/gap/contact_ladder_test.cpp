// Through contact in steps of ten: gaps of 0 and +-10^-k mm, k = 0 ... 12, on floor, wall, corner and mouth, all closed
// form, derived beside each check. Most are exact ties, as valve and pocket share their axis: flat on flat, a rim in
// its wall, over its mouth or in its corner all the way round. They must come out right, and come out at all: the time
// limit of the test program is what a stall would run into.
#include <gtest/gtest.h>

#include "eyebrow/parts.hpp"
#include "gap/queries.hpp"
#include "gap/told.hpp"
#include "gap/tolerances.hpp"
#include "shapes.hpp"

namespace eyebrow {
namespace {

constexpr double kMargin = 4, kReach = 0;
constexpr double kRounding = 2e-9;

std::vector<double> ladder(int step = 1) {
  std::vector<double> gaps{0};
  for (int k = 0; k <= 12; k += step)
    for (const double sign : {1.0, -1.0}) gaps.push_back(sign * std::pow(10.0, -k));
  return gaps;
}

/// NaN: not asked.
struct Expected {
  double travel = NAN, face = NAN, radial = NAN, closest = NAN;
  double steep = 1;       ///< what travel and radial multiply the mesh's error by: one over the cosine of the slope
  bool interval = false;  ///< the interval alone is asked
  double operator[](GapKind kind) const {
    return kind == GapKind::travel ? travel : kind == GapKind::face ? face : kind == GapKind::radial ? radial : closest;
  }
};

void expect_gaps(const std::shared_ptr<const Target>& target, const Profile& profile, Vec3 centre, Vec3 up, int pocket,
                 const Expected& expected) {
  const ValveToPiston pair(target, profile, {centre, up}, pocket);
  GapRequest request;
  request.reach = kReach;
  request.travel = !std::isnan(expected.travel);
  request.face = !std::isnan(expected.face);
  request.radial = !std::isnan(expected.radial);
  const PoseGaps gaps = pair.gaps({0, 0}, request);
  const double error = crown_of(*target).error;
  for (const GapKind kind : kGapKinds) {
    if (std::isnan(expected[kind])) continue;
    const Gap& gap = gaps[kind];
    SCOPED_TRACE(std::string(to_string(kind)) + ", exact " + std::to_string(expected[kind]));
    ASSERT_TRUE(gap.measured());
    EXPECT_LE(gap.low, expected[kind] + kRounding);
    EXPECT_GE(gap.high, expected[kind] - kRounding);
    if (gap.status == GapStatus::measured && !expected.interval) {
      const double steep = kind == GapKind::travel || kind == GapKind::radial ? expected.steep : 1;
      EXPECT_NEAR(gap.value, expected[kind], steep * error + gap::kSearch);
    }
  }
}

std::shared_ptr<const Target> pocketed(double tilt, double radius, double floor) {
  return make_target(shapes::pocketed(60, {-4, 6, tilt, 0.7, radius, floor}));
}

/// A flat crown of one upright pocket with a corner radius, from the modeller.
std::shared_ptr<const Target> cornered(double radius, double corner, double depth) {
  Engine engine;
  engine.name = "one pocket (invented)";
  engine.cylinder.bore = 101;
  engine.cylinder.stroke = 90;
  engine.cylinder.rod_length = 150;
  engine.gasket = {1.0, 103};
  engine.piston.crown_diameter = 100;
  Pocket p;
  p.name = "pocket";
  p.x = -4;
  p.y = 6;
  p.diameter = 2 * radius;
  p.depth = depth;
  p.depth_to = DepthTo::floor_centre;
  p.corner_radius = corner;
  engine.piston.pockets = {p};
  return make_target(build_parts(engine, {}).crown);
}

Frame floor_of(const Target& target) {
  for (const Face& face : crown_of(target).faces)
    if (face.group == Group::floor) return face.frame;
  return {};
}

class Ladder : public testing::TestWithParam<double> {};  // tilt of valve and pocket, degrees

// Flat on flat, coaxial: floor and valve face g apart. Overlapping by less than the rest of the valve: the floor is -g
// deep in it, and as much must be withdrawn.
TEST_P(Ladder, FlatOnTheFloor) {
  const auto target = pocketed(GetParam() * kDegree, 20, 12);
  const Frame f = floor_of(*target);
  for (const double g : ladder()) {
    SCOPED_TRACE(g);
    expect_gaps(target, shapes::outline(18, kMargin), f.origin + g * f.z, f.z, 0, {g, g, 2, std::min(g, 2.0)});
  }
}

// Rounded, domed and dished valves meet the floor with another part, at the same height; a dome's lowest point is as
// deep in the floor as the valve is lowered past contact. (A dish's sharp brim is less deep: not asked.)
TEST_P(Ladder, OtherFacesOnTheFloor) {
  const auto target = pocketed(GetParam() * kDegree, 20, 12);
  const Frame f = floor_of(*target);
  for (const double depth : {0.0, -1.5, 1.5})
    for (const double edge : {0.0, 0.5}) {
      const Profile profile = shapes::outline(18, kMargin, edge, depth);
      for (const double g : ladder(3)) {
        SCOPED_TRACE(std::to_string(depth) + ", " + std::to_string(edge) + ", " + std::to_string(g));
        Expected expected{g, g, NAN, g};
        if (g < 0 && depth > 0) expected.closest = NAN;
        expect_gaps(target, profile, f.origin + (g - profile.lowest) * f.z, f.z, 0, expected);
      }
    }
}

// Coaxial in its wall, all of the rim g from it; and moved aside until one place is g from it. The floor is 5 below.
TEST_P(Ladder, RimInItsWall) {
  const double rim = 18;
  for (const double g : ladder()) {
    SCOPED_TRACE(g);
    const auto target = pocketed(GetParam() * kDegree, rim + g, 20);
    const Frame f = floor_of(*target);
    expect_gaps(target, shapes::outline(rim, kMargin), f.origin + 3 * f.z, f.z, 0, {NAN, NAN, g, g});
  }
  const auto target = pocketed(GetParam() * kDegree, rim + 2, 20);
  const Frame f = floor_of(*target);
  for (const double g : ladder()) {
    SCOPED_TRACE(g);
    const Vec3 aside = (2 - g) * (std::cos(1.1) * f.x + std::sin(1.1) * f.y);
    expect_gaps(target, shapes::outline(rim, kMargin), f.origin + 3 * f.z + aside, f.z, 0, {NAN, NAN, g, g});
  }
}

INSTANTIATE_TEST_SUITE_P(Tilts, Ladder, testing::Values(0.0, 17.0));

// Coaxial over a sharp mouth: the rim is g / sqrt 2 within it and as much above, so g from it all around. Past contact
// it is as much wider and lower: the mouth is g / sqrt 2 from the valve's face and from its margin, inside.
TEST(ContactLadder, RimOverItsMouth) {
  const auto target = pocketed(0, 20, 12);
  for (const double g : ladder()) {
    SCOPED_TRACE(g);
    const double d = g / std::sqrt(2.0);
    const Profile profile = shapes::outline(20 - d, kMargin);
    Expected expected{g > 0 ? NAN : d, NAN, NAN, g > 0 ? g : d};
    expect_gaps(target, profile, {-4, 6, d}, {0, 0, 1}, 0, expected);
  }
}

// A rim a little within its mouth and less above it: the crown flat does not go on under it.
TEST(ContactLadder, WithinAMicrometreOfItsMouth) {
  const auto target = pocketed(0, 20, 12);
  for (const double aside : {9e-4, 6e-4, 3e-4})
    for (const double above : {1e-3, 1e-4, 1e-6}) {
      SCOPED_TRACE(std::to_string(aside) + ", " + std::to_string(above));
      const double exact = std::hypot(aside, above);
      const Profile profile = shapes::outline(20 - aside, kMargin);
      expect_gaps(target, profile, {-4, 6, above}, {0, 0, 1}, 0, {NAN, NAN, NAN, exact});
      const Gap gap = ValveToPiston(target, profile, {{-4, 6, above}, {0, 0, 1}}, 0).gaps({0, 0}, {}).closest;
      EXPECT_NEAR(gap.value, exact, gap::kArcOff + gap::kEdgeSearch);
    }
}

// The rim as wide as the mouth: it enters it, or lands on its edge.
TEST(ContactLadder, RimAsWideAsItsMouth) {
  const auto target = pocketed(0, 20, 12);
  for (const double g : ladder()) {
    SCOPED_TRACE(g);
    expect_gaps(target, shapes::outline(20, kMargin), {-4, 6, g}, {0, 0, 1}, 0, {NAN, NAN, NAN, std::max(g, 0.0)});
  }
}

// Coaxial in a corner of radius c: the rim is c - g from the middle of its arc, 45 degrees down, all around. Straight
// down and straight out from there the arc is met at the height and radius where it is as low and as wide. Past contact
// the arc's middle is g / sqrt 2 from face and margin.
TEST(ContactLadder, RimInItsCorner) {
  const double radius = 20, corner = 3;
  const auto target = cornered(radius, corner, 10);
  const Frame f = floor_of(*target);
  for (const double g : ladder()) {
    SCOPED_TRACE(g);
    const double d = (corner - g) / std::sqrt(2.0), rim = radius - corner + d, z = corner - d;
    const double below = corner - std::sqrt(corner * corner - d * d),
                 beside = radius - corner + std::sqrt(corner * corner - d * d);
    expect_gaps(target, shapes::outline(rim, kMargin), f.origin + z * f.z, f.z, 0,
                {z - below, NAN, beside - rim, g > 0 ? g : g / std::sqrt(2.0),
                 corner / std::min(d, std::sqrt(corner * corner - d * d))});
  }
}

// A rim over a corner's bottom, on its way down past the floor, its axis e nearer to one side and leaning toward that
// side or away from it by a little. Leaning toward it, the bottom of the corner looks at the rim: where it turns into
// the floor is nearest, at the radius of the tube's middle. Leaning away, the bottom is behind metal, and nearest is
// where the corner comes to look at the rim: where its normal is parallel to the valve's axis. However little it leans.
TEST(ContactLadder, RimOverTheBottomOfACorner) {
  const double radius = 20, corner = 1, rim = 18, e = 0.4, above = 1.5, reach = 3;
  const auto target = cornered(radius, corner, 10);
  const Frame f = floor_of(*target);
  std::vector<int> sides;
  for (int i = 0; i < static_cast<int>(crown_of(*target).faces.size()); ++i)
    if (const Face& face = crown_of(*target).faces[static_cast<std::size_t>(i)];
        face.pocket == 0 && face.group != Group::floor)
      sides.push_back(i);
  for (const double edge : {0.0, 0.3})
    for (const double g : ladder()) {
      const double lean = 0.02 * g;  // toward +x: away from the nearer side, which is at -x
      SCOPED_TRACE(std::to_string(edge) + ", " + std::to_string(g));
      const Vec3 up{std::sin(lean), 0, std::cos(lean)};
      const Vec3 tube{-(radius - corner), 0, corner}, place = lean > 0 ? tube - corner * up : tube - Vec3{0, 0, corner},
                                                      off = place - Vec3{-e, 0, above};
      const double exact = norm(off - dot(off, up) * up) - rim;
      const Profile profile = shapes::outline(rim, kMargin, edge);
      const Vec3 centre = f.origin + Vec3{-e, 0, above};
      GapRequest request;
      request.reach = reach;
      const Gap gap = ValveToPiston(target, profile, {centre, up}, 0).gaps({0, 0}, request).radial;
      ASSERT_TRUE(gap.measured());
      EXPECT_LE(gap.low, exact + kRounding);
      EXPECT_GE(gap.high, exact - kRounding);
      EXPECT_NEAR(gap.value, exact, gap::kEdgeSearch + gap::kArcOff);
      const gap::Outline outline(profile);
      const gap::Found on_mesh = gap::radial(*target, sides, gap::ValveFrame(centre, up), outline.view(), reach);
      EXPECT_NEAR(on_mesh.value, exact, 2 * crown_of(*target).error + gap::kSearch);
    }
}

// No corner radius: a valve that just fits its pocket stands in the sharp corner, g from floor and wall alike.
TEST(ContactLadder, RimInASharpCorner) {
  for (const double tilt : {0.0, 17 * kDegree})
    for (const double g : ladder()) {
      SCOPED_TRACE(g);
      const auto target = pocketed(tilt, 18 + g, 20);
      const Frame f = floor_of(*target);
      expect_gaps(target, shapes::outline(18, kMargin), f.origin + g * f.z, f.z, 0,
                  {g > 0 ? g : NAN, g > 0 ? g : NAN, g, g > 0 ? g : NAN});
    }
}

// A tilted valve over a flat crown, its lowest place g above. Past contact the flat cuts its sharp corner: the deepest
// place of a plane within a right angle is g / (sin + cos) inside.
TEST(ContactLadder, TiltedValveOnTheFlat) {
  const double rim = 18, tilt = 14 * kDegree;
  Crown crown = shapes::plain(60);
  const auto target = make_target(crown);
  for (const double g : ladder()) {
    SCOPED_TRACE(g);
    expect_gaps(target, shapes::outline(rim, kMargin), {2, -3, g + rim * std::sin(tilt)}, tilted_axis(tilt, 0.3), -1,
                {g / std::cos(tilt), g, NAN, g > 0 ? g : g / (std::sin(tilt) + std::cos(tilt))});
  }
}

}  // namespace
}  // namespace eyebrow
