// Names, groups and pockets of the crown's faces.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/surface_checks.hpp"

namespace eyebrow {
namespace {

using test::kCoarse;

using testing::Contains;
using testing::IsSupersetOf;
using testing::Not;
using testing::UnorderedElementsAre;

Crown crown_of(const Engine& e) {
  return build_parts(e, {}, kCoarse).crown;
}

void expect_sound_names(const Engine& e, const Crown& crown) {
  EXPECT_EQ(test::names_of(crown).size(), crown.faces.size()) << "a name comes twice";
  for (const Face& face : crown.faces) {
    const bool of_pocket = face.group == Group::floor || face.group == Group::corner || face.group == Group::wall ||
                           face.group == Group::mouth;
    EXPECT_EQ(of_pocket, face.pocket >= 0) << face.name;
    if (of_pocket) {
      ASSERT_LT(face.pocket, static_cast<int>(e.piston.pockets.size()));
      EXPECT_THAT(face.name,
                  testing::StartsWith(e.piston.pockets[static_cast<std::size_t>(face.pocket)].name + " pocket "));
    }
    EXPECT_GT(face.area, 0) << face.name;
    const Frame& f = face.frame;
    EXPECT_NEAR(norm(f.x), 1, 1e-12);
    EXPECT_NEAR(norm(f.z), 1, 1e-12);
    EXPECT_NEAR(norm(cross(f.x, f.y) - f.z), 0, 1e-12) << face.name;
  }
  for (const Edge& edge : crown.edges) {
    EXPECT_GE(edge.faces[0], 0);
    EXPECT_GE(edge.faces[1], 0);
    EXPECT_GE(edge.points.size(), 2u);
  }
}

TEST(CrownNames, Wedge) {
  const Engine e = test::wedge();
  const Crown c = crown_of(e);
  expect_sound_names(e, c);
  EXPECT_THAT(test::names_of(c),
              UnorderedElementsAre("crown flat", "side", "underside", "intake pocket floor", "intake pocket wall",
                                   "exhaust pocket floor", "exhaust pocket wall"));
  const Face& wall = c.faces[static_cast<std::size_t>(test::face_named(c, "exhaust pocket wall"))];
  EXPECT_EQ(wall.group, Group::wall);
  EXPECT_EQ(wall.pocket, 1);
  EXPECT_EQ(wall.kind, Surface::cylinder);
  EXPECT_NEAR(wall.radius, 1.730 * kInch / 2, 1e-12);
  EXPECT_NEAR(norm(wall.frame.z - tilted_axis(23 * kDegree, 0)), 0, 1e-12);
}

TEST(CrownNames, PentRoofWithFourOverlappingPockets) {
  const Engine e = test::pent_roof();
  const Crown c = crown_of(e);
  expect_sound_names(e, c);
  EXPECT_THAT(test::names_of(c),
              IsSupersetOf({"crown flat", "side", "underside", "dome plateau", "dome plane 1", "dome plane 2",
                            "dome plane 3", "dome plane 4", "intake front pocket floor", "intake front pocket wall",
                            "intake rear pocket floor", "intake rear pocket wall", "exhaust front pocket floor",
                            "exhaust front pocket wall", "exhaust rear pocket floor", "exhaust rear pocket wall"}));
  // Each piece of a wall lies on its own pocket's cylinder and on no other's.
  for (const Triangle& t : c.triangles) {
    const Face& face = c.faces[static_cast<std::size_t>(t.face)];
    if (face.group != Group::wall) continue;
    const Vec3 p = (1.0 / 3) * (test::corner(c, t, 0) + test::corner(c, t, 1) + test::corner(c, t, 2));
    for (std::size_t i = 0; i < e.piston.pockets.size(); ++i) {
      const Pocket& pocket = e.piston.pockets[i];
      const double r = norm(cross(p - Vec3{pocket.x, pocket.y, 0}, tilted_axis(pocket.tilt, pocket.lean)));
      if (static_cast<int>(i) == face.pocket) {
        EXPECT_NEAR(r, pocket.diameter / 2, 0.011);
      } else {
        EXPECT_GT(r, pocket.diameter / 2 - 0.011);  // inside another pocket there is no metal
      }
    }
  }
}

TEST(CrownNames, CornerDishChamferAndDome) {
  Engine e = test::plain();
  e.piston.top_chamfer = 1;
  e.piston.dish = Dish{30, 3, 1, 0, 0};
  e.piston.pockets = {test::pocket("a", 0, 20, 8, 0, 24, 5, 1.5)};
  const Crown c = crown_of(e);
  expect_sound_names(e, c);
  EXPECT_THAT(test::names_of(c), IsSupersetOf({"top chamfer", "dish floor", "dish corner", "dish wall",
                                               "a pocket floor", "a pocket corner", "a pocket wall"}));
  Engine d = test::plain();
  d.piston.round_dome = RoundDome{4, 60, DomeShape::cone, 20};
  EXPECT_THAT(test::names_of(crown_of(d)),
              UnorderedElementsAre("crown flat", "side", "underside", "dome", "dome plateau"));
  d.piston.round_dome = RoundDome{4, 80, DomeShape::sphere, 0};  // over the whole crown: no flat is left
  EXPECT_THAT(test::names_of(crown_of(d)), UnorderedElementsAre("side", "underside", "dome"));
}

TEST(CrownNames, PiecesAreNumberedLargestFirst) {
  // A pocket over both edges of a wedge-shaped rest: its wall comes in two pieces.
  Engine e = test::plain();
  e.piston.pockets = {test::pocket("a", 0, 34, 0, 0, 30, 4)};
  const Crown c = crown_of(e);
  expect_sound_names(e, c);
  e.piston.pockets = {test::pocket("a", 0, 20, 0, 0, 44, 4), test::pocket("b", 0, 20, 0, 0, 16, 6)};
  e.piston.pockets.push_back(test::pocket("c", 0, -2, 0, 0, 12, 5));
  const Crown split = crown_of(e);
  expect_sound_names(e, split);
  const int first = test::face_named(split, "a pocket wall"), second = test::face_named(split, "a pocket wall 2");
  ASSERT_GE(first, 0);
  ASSERT_GE(second, 0);
  EXPECT_GE(split.faces[static_cast<std::size_t>(first)].area, split.faces[static_cast<std::size_t>(second)].area);
}

TEST(CrownNames, CoplanarFloorsBelongToTheirOwnPockets) {
  Engine e = test::plain();
  e.piston.dish = Dish{24, 3, 0, 0, 0};
  e.piston.pockets = {test::pocket("a", 0, 16, 0, 0, 20, 3), test::pocket("b", 0, -30, 0, 0, 14, 3)};
  const Crown c = crown_of(e);
  expect_sound_names(e, c);
  for (const Triangle& t : c.triangles) {
    const Face& face = c.faces[static_cast<std::size_t>(t.face)];
    const Vec3 p = (1.0 / 3) * (test::corner(c, t, 0) + test::corner(c, t, 1) + test::corner(c, t, 2));
    if (face.name.starts_with("a pocket floor")) {
      EXPECT_LE(std::hypot(p.x, p.y - 16), 10.001);
    }
    if (face.name.starts_with("b pocket floor")) {
      EXPECT_LE(std::hypot(p.x, p.y + 30), 7.001);
    }
    if (face.name.starts_with("dish floor")) {
      EXPECT_LE(std::hypot(p.x, p.y), 12.001);
    }
  }
}

TEST(CrownNames, OverhangsAndCrossingsKeepTheirNames) {
  Engine e = test::plain();
  e.piston.pockets = {test::pocket("a", 10, 28, 20, 180, 34, 5, 1.2), test::pocket("b", -8, -26, 14, 60, 32, 4)};
  const Crown c = crown_of(e);
  expect_sound_names(e, c);
  EXPECT_THAT(test::names_of(c), IsSupersetOf({"a pocket floor", "a pocket corner", "a pocket wall", "b pocket wall"}));
  EXPECT_THAT(test::names_of(c), Not(Contains("dome")));
}

}  // namespace
}  // namespace eyebrow
