// What is lit and what stands beside it: the check's numbers, at places that are on the parts.
#include <gmock/gmock.h>
#include <unistd.h>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <STEPControl_Reader.hxx>
#include <TopExp_Explorer.hxx>

#include <filesystem>
#include <sstream>

#include "eyebrow/report.hpp"
#include "gap/dense_outline.hpp"
#include "scene/drawn.hpp"
#include "scene/lit_gaps.hpp"

namespace eyebrow::scene {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

constexpr double kOn = 0.002;  // mm: what kernel, mesh and reader may be off together

/// What the report prints as found in the row of a valve's gap.
std::string found_in_report(const std::string& report, const std::string& valve, GapKind kind) {
  std::istringstream lines(report);
  bool of_the_valve = false;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string first, second;
    words >> first >> second;
    if (first == "Valve") of_the_valve = second == valve;
    if (of_the_valve && first == to_string(kind)) return second;
  }
  return "not in the report";
}

TEST(Lit, NumbersAreThoseOfTheReport) {
  Drawn drawn("inline_six_big_valve", true);
  const std::string report = check_text(*drawn.shown.check, {LengthUnit::inch});
  for (int valve = 0; valve < 2; ++valve)
    for (const GapKind kind : kGapKinds) {
      drawn.place_at(valve, kind);
      const LitGap* const lit = lit_of(drawn.scene, kind);
      ASSERT_NE(lit, nullptr);
      const std::string name = drawn.file.engine.valves[static_cast<std::size_t>(valve)].name;
      EXPECT_TRUE(lit->least) << lit->label;
      EXPECT_EQ(lit->gap.value, drawn.least(valve, kind).gap.value);
      EXPECT_THAT(lit->label, StartsWith(to_string(kind) + (" " + found_in_report(report, name, kind)) + " "))
          << report;
      EXPECT_THAT(lit->label, HasSubstr(name));
      EXPECT_THAT(lit->label, HasSubstr(crank_text(drawn.least(valve, kind).crank)));
      EXPECT_THAT(lit->label, HasSubstr("least of the cycle"));
    }
}

TEST(Lit, IsNotCalledTheLeastElsewhere) {
  Drawn drawn("inline_six_stock", true);
  drawn.place_at(0, GapKind::travel);
  drawn.scene.place(drawn.least(0, GapKind::travel).crank + 3 * kDegree);
  const LitGap* const lit = lit_of(drawn.scene, GapKind::travel);
  ASSERT_NE(lit, nullptr);
  EXPECT_FALSE(lit->least);
  EXPECT_THAT(lit->label, testing::Not(HasSubstr("least")));
  EXPECT_GT(lit->gap.value, drawn.least(0, GapKind::travel).gap.value);
}

/// On the face that is named, on the valve's outline (a fine polygon, tests/gap/dense_outline.hpp), and in the
/// direction that the kind of gap is measured in.
void expect_on_parts(const Drawn& drawn, const LitGap& lit) {
  const Engine& engine = *drawn.shown.engine;
  const Parts& parts = *drawn.shown.parts;
  const std::size_t number = static_cast<std::size_t>(lit.valve);
  const Motion motion(engine);
  const Vec3 piston{0, 0, engine.gasket.thickness + motion.height(drawn.scene.crank())};
  const auto face = std::ranges::find(parts.crown.faces, lit.face, &Face::name);
  ASSERT_NE(face, parts.crown.faces.end()) << lit.face;
  EXPECT_NEAR(off_surface(*face, lit.on_other - piston), 0, kOn) << lit.label;

  const Vec3 up = up_axis(engine, engine.valves[number]);
  const Vec3 centre = closed_place(engine, engine.valves[number]) + Vec3{0, 0, engine.gasket.thickness} -
                      motion.lift(lit.valve, drawn.scene.crank()) * up;
  const dense::Outline outline(parts.profiles[number]);
  const auto off_valve = [&](Vec3 p) {
    const double w = dot(p - centre, up);
    return outline.signed_distance(norm(p - centre - w * up), w);
  };
  EXPECT_NEAR(off_valve(lit.on_rim), 0, kOn) << lit.label;
  const Vec3 line = lit.on_valve - lit.on_other;
  EXPECT_NEAR(norm(line), std::fabs(lit.gap.value), kOn) << lit.label;
  switch (*gap_kind(lit.kind)) {
    case GapKind::travel:
      EXPECT_NEAR(norm(cross(line, up)), 0, kOn) << lit.label;
      break;
    case GapKind::face:
      EXPECT_NEAR(norm(cross(line, off_surface_gradient(*face, lit.on_other - piston))), 0, kOn) << lit.label;
      break;
    case GapKind::radial:
      EXPECT_NEAR(dot(line, up), 0, kOn) << lit.label;
      break;
    case GapKind::closest:
      EXPECT_NEAR(std::fabs(off_valve(lit.on_other)), norm(line), kOn) << lit.label;
      break;
  }
}

TEST(Lit, PointsLieOnTheFacesNamed) {
  for (const char* const model : {"inline_six_big_valve", "canted_valve", "four_valve_pent_roof"}) {
    SCOPED_TRACE(model);
    Drawn drawn(model, false);
    int seen = 0;
    for (const double degrees : {-18.0, -6.0, 2.0, 9.0, 22.0}) {
      drawn.scene.place(degrees * kDegree);
      for (const LitGap& lit : drawn.scene.lit())
        if (gap_kind(lit.kind)) expect_on_parts(drawn, lit), ++seen;
    }
    EXPECT_GE(seen, 15);
  }
}

// The solids as another program would get them.
TEST(Lit, PointsLieOnTheSolidsOfTheStepFile) {
  Drawn drawn("inline_six_big_valve", false);
  const double crank = 2 * kDegree;
  drawn.scene.place(crank);
  const Motion motion(*drawn.shown.engine);
  const auto path = std::filesystem::temp_directory_path() / ("eyebrow_lit_" + std::to_string(::getpid()) + ".step");
  export_step(*drawn.shown.engine, *drawn.shown.parts,
              {motion.height(crank), {motion.lift(0, crank), motion.lift(1, crank)}}, path.string());
  STEPControl_Reader reader;
  ASSERT_EQ(reader.ReadFile(path.c_str()), IFSelect_RetDone);
  std::filesystem::remove(path);
  reader.TransferRoots();
  const auto off_solids = [&](Vec3 p) {
    const TopoDS_Shape vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(p.x, p.y, p.z)).Shape();
    double least = INFINITY;
    for (TopExp_Explorer each(reader.OneShape(), TopAbs_SHELL); each.More(); each.Next())
      least = std::min(least, BRepExtrema_DistShapeShape(vertex, each.Current()).Value());
    return least;
  };
  ASSERT_GE(drawn.scene.lit().size(), 4u);
  for (const LitGap& lit : drawn.scene.lit()) {
    if (!gap_kind(lit.kind)) continue;  // the bore is not among the solids
    EXPECT_LT(off_solids(lit.on_other), kOn) << lit.label;
    EXPECT_LT(off_solids(lit.on_rim), kOn) << lit.label;
    EXPECT_GT(off_solids(0.5 * (lit.on_other + lit.on_valve)), 0.1) << "the middle of the gap is void";
  }
}

// Of two valves, and of a valve and the bore: the check's number and points, on both parts.
TEST(Lit, ValvesAndBoreWhereTheCheckHasTheirLeast) {
  for (const char* const model : {"two_valve_wedge", "four_valve_pent_roof"}) {
    SCOPED_TRACE(model);
    Drawn drawn(model, true);
    const Engine& engine = *drawn.shown.engine;
    const CheckResult& check = *drawn.shown.check;
    const auto off_valve = [&](std::size_t number, Vec3 p) {
      const Motion motion(engine);
      const Vec3 up = up_axis(engine, engine.valves[number]);
      const Vec3 centre = closed_place(engine, engine.valves[number]) + Vec3{0, 0, engine.gasket.thickness} -
                          motion.lift(static_cast<int>(number), drawn.scene.crank()) * up;
      const double w = dot(p - centre, up);
      return dense::Outline(drawn.shown.parts->profiles[number]).signed_distance(norm(p - centre - w * up), w);
    };
    const auto expect_lit = [&](LitKind kind, const Minimum& least, const std::string& name, double asked) {
      const LitGap* const lit = lit_of(drawn.scene, kind);
      ASSERT_NE(lit, nullptr) << name;
      EXPECT_TRUE(lit->least) << name;
      EXPECT_EQ(lit->gap.value, least.gap.value);
      EXPECT_EQ(lit->asked, asked);
      EXPECT_NEAR(norm(lit->on_valve - lit->on_other), lit->gap.value, kOn);
      EXPECT_NEAR(off_valve(static_cast<std::size_t>(lit->valve), lit->on_valve), 0, kOn);
      EXPECT_THAT(lit->label, HasSubstr(to_string(kind)));
      EXPECT_THAT(lit->label, HasSubstr(name));
    };
    std::size_t pair = 0;
    for (int first = 0; first < static_cast<int>(engine.valves.size()); ++first)
      for (int second = first + 1; second < static_cast<int>(engine.valves.size()); ++second, ++pair) {
        const PairResult& of = check.pairs[pair];
        Look look = drawn.scene.look();
        look.lit_valve = first;
        look.lit_other = second;
        look.focus = LitKind::pair;
        drawn.scene.place(of.minimum.crank);
        drawn.scene.look(look);
        expect_lit(LitKind::pair, of.minimum, of.first + " / " + of.second, engine.asked.valve_to_valve);
        const LitGap* const lit = lit_of(drawn.scene, LitKind::pair);
        EXPECT_NEAR(off_valve(static_cast<std::size_t>(second), lit->on_other), 0, kOn);
      }
    for (int valve = 0; valve < static_cast<int>(engine.valves.size()); ++valve) {
      const Minimum& least = check.valves[static_cast<std::size_t>(valve)].bore;
      Look look = drawn.scene.look();
      look.lit_valve = valve;
      look.lit_other.reset();
      look.focus = LitKind::bore;
      drawn.scene.place(least.crank);
      drawn.scene.look(look);
      expect_lit(LitKind::bore, least, engine.valves[static_cast<std::size_t>(valve)].name, engine.asked.valve_to_bore);
      const Vec3 wall = lit_of(drawn.scene, LitKind::bore)->on_other;
      if (lit_of(drawn.scene, LitKind::bore)->face != "bore wall") continue;
      EXPECT_NEAR(std::hypot(wall.x, wall.y), engine.cylinder.bore / 2, kOn);
    }
  }
}

// Closed valves are as near each other all the cycle round: that is no place to light.
TEST(Lit, ValvesAndBoreOnlyWhereAValveIsOpen) {
  Drawn drawn("two_valve_wedge", false);
  drawn.scene.place(-360 * kDegree);
  EXPECT_EQ(lit_of(drawn.scene, LitKind::pair), nullptr);
  EXPECT_EQ(lit_of(drawn.scene, LitKind::bore), nullptr);
  drawn.scene.place(0);
  EXPECT_NE(lit_of(drawn.scene, LitKind::pair), nullptr);
  EXPECT_NE(lit_of(drawn.scene, LitKind::bore), nullptr);
}

// Deck clearance and gasket, over the crown flat: by hand from the file's numbers.
TEST(Lit, PistonToHeadFromDeckAndGasket) {
  Drawn drawn("two_valve_wedge", true);
  Look look = drawn.scene.look();
  look.lit = {LitKind::head};
  drawn.scene.place(0);
  drawn.scene.look(look);
  const LitGap* const lit = lit_of(drawn.scene, LitKind::head);
  ASSERT_NE(lit, nullptr);
  const Engine& engine = *drawn.shown.engine;
  EXPECT_NEAR(lit->gap.value, engine.cylinder.deck_clearance + engine.gasket.thickness, 1e-9);
  EXPECT_TRUE(lit->least);
  EXPECT_NEAR(lit->on_valve.z, engine.gasket.thickness, 1e-12);
  const Vec3 down{0, 0, engine.gasket.thickness + Motion(engine).height(0)};
  const Vec3 foot = lit->on_other - down;
  EXPECT_NEAR(foot.z, 0, 1e-9);
  bool on_crown = false;  // no pocket is there
  const Crown& crown = drawn.shown.parts->crown;
  for (const Triangle& triangle : crown.triangles) {
    const auto corner = [&](std::size_t i) { return crown.points[static_cast<std::size_t>(triangle.vertex[i])]; };
    bool within = std::fabs(corner(0).z) + std::fabs(corner(1).z) + std::fabs(corner(2).z) < 1e-6;
    for (std::size_t i = 0; i < 3; ++i)
      within = within && cross(corner((i + 1) % 3) - corner(i), foot - corner(i)).z >= -1e-6;
    on_crown = on_crown || within;
  }
  EXPECT_TRUE(on_crown);
}

TEST(Lit, LabelsSayWhatIsAskedAndWhatIsShort) {
  Drawn drawn("inline_six_big_valve", true);
  drawn.place_at(0, GapKind::radial);
  const LitGap* const radial = lit_of(drawn.scene, GapKind::radial);
  ASSERT_NE(radial, nullptr);
  EXPECT_TRUE(radial->is_short);
  EXPECT_THAT(radial->label, HasSubstr("radial 0.021 of 0.050 in  SHORT\n"));
  const LitGap* const travel = lit_of(drawn.scene, GapKind::travel);
  ASSERT_NE(travel, nullptr);
  EXPECT_FALSE(travel->is_short);
  EXPECT_THAT(travel->label, HasSubstr(" of 0.080 in\n"));
  EXPECT_EQ(gap_words(LitKind::closest, -0.1, 1, true, {LengthUnit::mm}), "closest -0.10 of 1.00 mm  CONTACT");
  EXPECT_EQ(gap_words(LitKind::radial, -0.1, 1, true, {LengthUnit::mm}), "radial -0.10 of 1.00 mm  SHORT");
}

TEST(Lit, OnlyWhatTheLookAsksFor) {
  Drawn drawn("inline_six_stock", false);
  Look look = drawn.scene.look();
  look.lit = {LitKind::radial};
  look.lit_valve = 1;
  drawn.scene.look(look);
  ASSERT_EQ(drawn.scene.lit().size(), 1u);
  EXPECT_EQ(drawn.scene.lit()[0].kind, LitKind::radial);
  EXPECT_EQ(drawn.scene.lit()[0].valve, 1);
  look.lit.clear();
  drawn.scene.look(look);
  EXPECT_TRUE(drawn.scene.lit().empty());
}

}  // namespace
}  // namespace eyebrow::scene
