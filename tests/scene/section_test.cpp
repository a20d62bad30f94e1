// Sections: the cut itself, and what is measured in it.
#include <gmock/gmock.h>

#include <map>

#include "gap/dense_outline.hpp"
#include "scene/drawn.hpp"
#include "scene/finer.hpp"
#include "scene/section_dimensions.hpp"
#include "study/disc_engine.hpp"

namespace eyebrow::scene {
namespace {

using testing::HasSubstr;
using What = SectionDimension::What;

constexpr double kExact = 0.002;  // mm

const SectionDimension* dimension_of(const Scene& scene, What what) {
  for (const SectionDimension& each : scene.dimensions())
    if (each.what == what) return &each;
  return nullptr;
}

TEST(SectionDimensions, AreTheGapsWhereTheSectionGoesThroughThem) {
  Drawn drawn("inline_six_big_valve", true);
  for (int valve = 0; valve < 2; ++valve)
    for (const auto& [what, kind] :
         {std::pair{What::travel, GapKind::travel}, {What::face, GapKind::face}, {What::radial, GapKind::radial}}) {
      drawn.place_at(valve, kind, through(valve));
      const SectionDimension* const found = dimension_of(drawn.scene, what);
      ASSERT_NE(found, nullptr) << to_string(kind);
      const Minimum& least = drawn.least(valve, kind);
      EXPECT_TRUE(found->is_gap) << found->label;
      EXPECT_NEAR(found->value, least.gap.value, kExact);
      // Measured in the plane, between the mesh's cut and the outline: another way than the kernel's.
      EXPECT_NEAR(norm(found->from - found->to), std::fabs(least.gap.value), kExact) << found->label;
      EXPECT_THAT(found->label, testing::Not(HasSubstr("in this section")));
      if (kind == GapKind::radial) {
        EXPECT_NEAR(norm(found->to - least.point_other), 0, 0.05);
      }
    }
}

TEST(SectionDimensions, SayWhereTheyAreNotTheLeast) {
  Drawn drawn("inline_six_big_valve", true);
  const Minimum& least = drawn.least(0, GapKind::radial);
  drawn.place_at(0, GapKind::radial, through(0, std::fmod(least.clock + 1.5, 12)));
  const SectionDimension* const radial = dimension_of(drawn.scene, What::radial);
  ASSERT_NE(radial, nullptr);
  EXPECT_FALSE(radial->is_gap);
  EXPECT_GT(radial->value, least.gap.value + 0.05);
  EXPECT_THAT(radial->label, HasSubstr("in this section; least 0.021")) << "as the report has it";
}

// The radial gap is where two pockets' walls meet: the section passes the wall's very end.
TEST(SectionDimensions, WhereAWallEndsInTheSection) {
  Drawn drawn("four_valve_pent_roof", false);
  Look look = drawn.scene.look();
  look.section = through(0);
  look.lit_valve = 0;
  drawn.scene.look(look);
  const SectionDimension* const radial = dimension_of(drawn.scene, What::radial);
  ASSERT_NE(radial, nullptr);
  const LitGap* const lit = lit_of(drawn.scene, GapKind::radial);
  ASSERT_NE(lit, nullptr);
  EXPECT_TRUE(radial->is_gap);
  EXPECT_NEAR(norm(radial->from - radial->to), lit->gap.value, kExact);
}

// A rim and a round pocket on the same axis: half of what their diameters differ by, to either side.
TEST(SectionDimensions, BothSidesOfARim) {
  Drawn drawn("four_valve_pent_roof", false, {{"asked.intake.reach", "12 mm"}});
  Look look = drawn.scene.look();
  look.section = through(0, 5.5);
  drawn.scene.look(look);
  const SectionDimension* const near = dimension_of(drawn.scene, What::radial);
  const SectionDimension* const far = dimension_of(drawn.scene, What::radial_opposite);
  ASSERT_NE(near, nullptr);
  ASSERT_NE(far, nullptr);
  const Engine& engine = *drawn.shown.engine;
  const Pocket& pocket = engine.piston.pockets.at(static_cast<std::size_t>(engine.valves[0].pocket));
  EXPECT_NEAR(near->value, (pocket.diameter - engine.valves[0].head_diameter) / 2, kExact);
  EXPECT_NEAR(far->value, (pocket.diameter - engine.valves[0].head_diameter) / 2, kExact);
  EXPECT_LT(dot(near->to - near->from, far->to - far->from), 0) << "to either side";
  for (const SectionDimension* const each : {near, far}) {
    EXPECT_NEAR(norm(each->from - each->to), each->value, kExact);
    EXPECT_NEAR(dot(each->from - each->to, up_axis(engine, engine.valves[0])), 0, 1e-9);
  }
}

// Over a flat crown, upright: travel is face gap is the height of the rim plane over the crown flat.
TEST(SectionDimensions, ClosedFormOverAFlatCrown) {
  const Engine engine = study::disc_engine();
  const Parts parts = study::disc_parts(engine);
  const study::Setup setup(engine, parts);
  for (const double degrees : {-30.0, 5.0, 40.0}) {
    const double crank = degrees * kDegree;
    for (int valve = 0; valve < 2; ++valve) {
      GapRequest request;
      const PoseGaps gaps =
          setup.valves[static_cast<std::size_t>(valve)].to_piston.gaps(setup.pose(valve, crank), request);
      const ValveSection section = valve_section(setup, valve, 2, crank, gaps, {});
      Plane in_piston = section.plane;
      in_piston.origin.z -= engine.gasket.thickness + setup.motion.height(crank);
      const std::vector<SectionDimension> found =
          section_dimensions(setup, valve, crank, section, cut_by(parts.crown, in_piston), gaps, {});
      const double height = closed_place(engine, engine.valves[static_cast<std::size_t>(valve)]).z -
                            setup.motion.lift(valve, crank) - setup.motion.height(crank);
      ASSERT_EQ(found.size(), 2u) << "no pocket, no radial gap";
      for (const SectionDimension& each : found) {
        EXPECT_NEAR(norm(each.from - each.to), height, 1e-6);
        EXPECT_NEAR(each.value, height, kExact);
      }
    }
  }
}

/// Of a cut with one loop, walked from line to line.
double cut_area(const Cut& cut, Vec3 normal) {
  std::map<int, std::vector<int>> beside;
  for (const Cut::Line& line : cut.lines) {
    beside[line.ends[0]].push_back(line.ends[1]);
    beside[line.ends[1]].push_back(line.ends[0]);
  }
  double twice = 0;
  int before = -1, at = cut.lines.front().ends[0];
  for (std::size_t i = 0; i < cut.lines.size(); ++i) {
    const int next = beside[at][0] == before ? beside[at][1] : beside[at][0];
    twice += dot(cross(cut.points[static_cast<std::size_t>(at)], cut.points[static_cast<std::size_t>(next)]), normal);
    before = at;
    at = next;
  }
  return std::fabs(twice) / 2;
}

/// Twice the area between the outline and the axis.
double outline_area(const Profile& profile) {
  double area = 0;
  for (const ProfileElement& e : profile.elements)
    area += (e.from.r * e.to.w - e.to.r * e.from.w);  // shoelace, doubled
  return area;
}

TEST(Cut, OfAValveThroughItsAxisIsItsOutlineTwice) {
  const Engine engine = study::disc_engine();
  Profile profile = valve_profile(engine.valves[0], 100);
  for (const ProfileElement& e : profile.elements) ASSERT_EQ(e.radius, 0) << "the sum below is for straight pieces";
  const Crown valve = valve_surface(profile, 0.001);
  const Vec3 normal = unit({0.6, 0.8, 0});
  const Cut cut = cut_by(valve, {{0, 0, 0}, normal});
  std::map<int, int> ends;
  for (const Cut::Line& line : cut.lines)
    for (const int end : line.ends) ++ends[end];
  for (const auto& [point, count] : ends) EXPECT_EQ(count, 2) << point;
  EXPECT_NEAR(cut_area(cut, normal), outline_area(profile), 1e-3 * outline_area(profile));
  for (const Vec3 p : cut.points) EXPECT_NEAR(dot(p, normal), 0, 1e-4);
}

TEST(Cut, SquareToAValvesAxisIsACircle) {
  const Engine engine = study::disc_engine();
  const Profile profile = valve_profile(engine.valves[0], 100);
  const Cut cut = cut_by(valve_surface(profile, 0.001), {{0, 0, 80}, {0, 0, 1}});
  const double radius = engine.valves[0].stem_diameter / 2;
  EXPECT_NEAR(cut_area(cut, {0, 0, 1}), kPi * radius * radius, 1e-3 * kPi * radius * radius);
}

TEST(Finer, IsTheSameSurfaceWithShorterSides) {
  const Crown before = valve_surface(valve_profile(study::disc_engine().valves[0], 60), 0.01);
  const auto chosen = [](const Face& face) { return face.name != to_string(ValvePart::stem); };
  const Crown after = finer(before, 1.5, chosen);
  const auto area = [](const Crown& solid) {
    std::vector<double> out(solid.faces.size());
    for (const Triangle& t : solid.triangles) {
      const Vec3 a = solid.points[static_cast<std::size_t>(t.vertex[0])];
      out[static_cast<std::size_t>(t.face)] +=
          0.5 * norm(cross(solid.points[static_cast<std::size_t>(t.vertex[1])] - a,
                           solid.points[static_cast<std::size_t>(t.vertex[2])] - a));
    }
    return out;
  };
  const std::vector<double> was = area(before), is = area(after);
  for (std::size_t i = 0; i < was.size(); ++i) EXPECT_NEAR(is[i], was[i], 1e-9 * was[i]);
  std::map<std::pair<int, int>, int> sides;  // each once in either direction: closed, and no point on another's side
  for (const Triangle& t : after.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      const int a = t.vertex[i], b = t.vertex[(i + 1) % 3];
      ++sides[{a, b}];
      if (!chosen(after.faces[static_cast<std::size_t>(t.face)])) continue;
      ASSERT_LE(norm(after.points[static_cast<std::size_t>(a)] - after.points[static_cast<std::size_t>(b)]), 1.5);
    }
  for (const auto& [side, count] : sides) {
    EXPECT_EQ(count, 1);
    EXPECT_EQ(sides.count({side.second, side.first}), 1u);
  }
}

}  // namespace
}  // namespace eyebrow::scene
