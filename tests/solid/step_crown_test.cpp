// A crown written as STEP and read again must give the gaps that it gave before, wherever it is in the file.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <gp_Circ.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <map>
#include <tuple>

#include "eyebrow/gap.hpp"
#include "eyebrow/spec.hpp"
#include "eyebrow/step_faces.hpp"
#include "solid/engines.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"
#include "solid/step_files.hpp"

namespace eyebrow {
namespace {

using test::exported;
using test::step_text;
using test::upright;
using test::with_step;
using testing::HasSubstr;

constexpr double kSameGap = 0.002;  // mm

Engine model(const std::string& name) {
  return read_engine(EYEBROW_MODELS "/" + name + ".toml").engine;
}

/// Dish, pockets with corner radii that run into each other, edge breaks on upright and on slanting mouths.
Engine dished() {
  Engine e = test::wedge();
  e.name = "dished crown (invented)";
  e.piston.dish = Dish{70, 3, 2, 0, 1};
  e.piston.top_chamfer = 0.5;
  e.piston.underside.reset();
  e.piston.pockets[0].corner_radius = 1;
  e.piston.pockets[1].corner_radius = 1.5;
  e.piston.pockets[0].depth = e.piston.pockets[1].depth = 6;
  return e;
}

Engine broken_mouths() {
  Engine e = test::wedge();
  e.name = "broken mouths (invented)";
  for (Pocket& pocket : e.piston.pockets) pocket.mouth_break = 0.6, pocket.corner_radius = 1;
  return e;
}

Engine domed() {
  Engine e = test::wedge();
  e.name = "round dome (invented)";
  e.piston.round_dome = RoundDome{4, 92, DomeShape::sphere, 0};
  e.piston.underside.reset();
  for (Pocket& pocket : e.piston.pockets) pocket.depth_to = DepthTo::floor_centre, pocket.depth = 1.5;
  e.valves[0].face = FaceShape::dished, e.valves[0].face_depth = 1;
  e.valves[0].rim_radius = 0.5;
  e.piston.pockets[0].floor = FloorShape::valve_face;
  return e;
}

struct Case {
  const char* name;
  Engine (*make)();
};
const Case kCases[] = {{"wedge", [] { return model("two_valve_wedge"); }},
                       {"pent roof", [] { return model("four_valve_pent_roof"); }},
                       {"inline six", [] { return model("inline_six_stock"); }},
                       {"inline six, big valve", [] { return model("inline_six_big_valve"); }},
                       {"canted valve", [] { return model("canted_valve"); }},
                       {"dished", dished},
                       {"broken mouths", broken_mouths},
                       {"domed", domed},
                       {"upright", upright}};

/// What each face was taken for. A slanting edge break is a surface that STEP has no name for.
std::multiset<std::tuple<Group, std::string, int>> groups_of(const Engine& engine, const Crown& crown) {
  std::multiset<std::tuple<Group, std::string, int>> groups;
  for (const Face& face : crown.faces) {
    std::string valve;
    for (std::size_t i = 0; i < engine.valves.size(); ++i)
      if (face.pocket >= 0 && own_pocket(engine, i) == face.pocket) valve = engine.valves[i].name;
    groups.insert({face.group, valve, static_cast<int>(std::lround(face.area * 100))});
  }
  return groups;
}

/// Gaps over poses from far above the crown to deep in it; returns how many were compared.
int expect_same_gaps(const Engine& one, const Parts& a, const Engine& other, const Parts& b) {
  int compared = 0;
  test::over_poses(one, a, other, b, [&](const PoseGaps& was, const PoseGaps& is) {
    for (const GapKind kind : kGapKinds) {
      const Gap &x = was[kind], &y = is[kind];
      if (x.status == GapStatus::jump || y.status == GapStatus::jump) {
        if (x.measured() && y.measured()) {
          EXPECT_LE(x.low, y.high + kSameGap);
          EXPECT_LE(y.low, x.high + kSameGap);
        }
        continue;
      }
      EXPECT_EQ(x.status, y.status) << to_string(kind);
      if (!x.measured() || !y.measured()) continue;
      ++compared;
      EXPECT_NEAR(x.value, y.value, kSameGap) << to_string(kind);
    }
    if (std::isnan(was.entry) || std::isnan(is.entry))
      EXPECT_EQ(std::isnan(was.entry), std::isnan(is.entry));
    else
      EXPECT_NEAR(was.entry, is.entry, kSameGap);
  });
  return compared;
}

/// The crown elsewhere in a file: up is its +x, the front its -z, then turned by -`turn` about the bore axis.
TopoDS_Shape moved(const TopoDS_Shape& crown, double turn) {
  gp_Trsf about, stand, shift;
  about.SetRotation(gp::OZ(), -turn);
  stand.SetValues(0, 0, 1, 120, -1, 0, 0, -45, 0, -1, 0, 310);  // columns: where the piston's x, y, z go
  return BRepBuilderAPI_Transform(crown, stand * about, true).Shape();
}

TEST(StepCrown, GivesTheSameGapsAsWrittenAndAnywhereInAFile) {
  for (const Case& each : kCases) {
    SCOPED_TRACE(each.name);
    const Engine engine = each.make();
    const Parts parts = build_parts(engine, {});

    Engine again = with_step(engine, exported(engine, parts));
    again.piston.step->solid = "crown";
    Parts read = build_parts(again, {});
    EXPECT_EQ(groups_of(engine, parts.crown), groups_of(again, read.crown));
    EXPECT_NEAR(read.crown.volume, parts.crown.volume, 1e-6 * parts.crown.volume);
    EXPECT_GT(expect_same_gaps(engine, parts, again, read), 70);

    again = with_step(engine, step_text({moved(parts.solids->crown.solid, 0.4)}, "INCH"));
    EXPECT_THAT(*again.piston.step->text, HasSubstr("INCH"));
    again.piston.step->up = Vec3{1, 0, 0};
    again.piston.step->front = Vec3{0, 0, -1};
    again.piston.step->turn = 0.4;
    again.piston.step->flat = 120;
    read = build_parts(again, {});
    EXPECT_TRUE(read.warnings.size() == parts.warnings.size()) << read.warnings.front().message;
    EXPECT_EQ(groups_of(engine, parts.crown), groups_of(again, read.crown));
    EXPECT_GT(expect_same_gaps(engine, parts, again, read), 70);
  }
}

/// Other programs write planes and cylinders as splines.
TEST(StepCrown, KnowsSplinesThatArePlainSurfaces) {
  for (const Case& each : kCases) {
    if (std::string(each.name) == "inline six, big valve") continue;
    SCOPED_TRACE(each.name);
    const Engine engine = each.make();
    const Parts parts = build_parts(engine, {});
    const TopoDS_Shape splines = BRepBuilderAPI_NurbsConvert(parts.solids->crown.solid, true).Shape();
    Engine again = with_step(engine, step_text({splines}));
    EXPECT_THAT(*again.piston.step->text, testing::Not(HasSubstr("CYLINDRICAL_SURFACE")));
    const Parts read = build_parts(again, {});
    EXPECT_EQ(groups_of(engine, parts.crown), groups_of(again, read.crown));
    for (const Face& face : read.crown.faces) {
      if (face.group == Group::mouth) continue;  // a slanting edge break has no name in STEP
      EXPECT_NE(face.kind, Surface::free_form) << face.name;
    }
    EXPECT_NEAR(read.crown.volume, parts.crown.volume, 1e-6 * parts.crown.volume);
    EXPECT_GT(expect_same_gaps(engine, parts, again, read), 70);
  }
}

/// A whole piston: below the crown a hollow, and a hole for the pin; `underside` leaves them out.
TEST(StepCrown, MayBeTheTopOfAWholePiston) {
  const Engine engine = upright();
  const Parts parts = build_parts(engine, {}, test::kCoarse);
  const double bottom = -3 - 8;  // deepest pocket, and metal below it where no underside is stated
  const TopoDS_Shape skirt = BRepPrimAPI_MakeCylinder(gp_Ax2({0, 0, -60}, gp::DZ()), 40, 60 + bottom + 1).Shape();
  const TopoDS_Shape hollow = BRepPrimAPI_MakeCylinder(gp_Ax2({0, 0, -70}, gp::DZ()), 33, 70 + bottom - 2).Shape();
  const TopoDS_Shape pin = BRepPrimAPI_MakeCylinder(gp_Ax2({0, -60, -35}, gp::DY()), 10, 120).Shape();
  TopoDS_Shape piston = BRepAlgoAPI_Fuse(parts.solids->crown.solid, skirt).Shape();
  piston = BRepAlgoAPI_Cut(BRepAlgoAPI_Cut(piston, hollow).Shape(), pin).Shape();
  ASSERT_LT(volume_of(piston), parts.crown.volume + kPi * 1600 * 50);

  Engine again = with_step(engine, step_text({piston}));
  const Parts whole = build_parts(again, {}, test::kCoarse);
  EXPECT_NEAR(whole.crown.volume, volume_of(piston), 1e-5 * volume_of(piston));
  again.piston.underside = -bottom;
  const Parts cut = build_parts(again, {}, test::kCoarse);
  EXPECT_NEAR(cut.crown.volume, parts.crown.volume, 1e-5 * parts.crown.volume);
  const auto all_but_side = [](auto groups) {  // the skirt's upper end stays as an edge
    std::erase_if(groups, [](const auto& each) { return std::get<0>(each) == Group::side; });
    return groups;
  };
  EXPECT_EQ(all_but_side(groups_of(engine, parts.crown)), all_but_side(groups_of(again, cut.crown)));
  EXPECT_GT(expect_same_gaps(engine, parts, again, whole), 70);
  EXPECT_GT(expect_same_gaps(engine, parts, again, cut), 70);
}

TEST(StepCrown, TakesTheUsersWordForAFace) {
  const Engine engine = upright();
  const Parts parts = build_parts(engine, {}, test::kCoarse);
  Engine again = with_step(engine, exported(engine, parts));
  again.piston.step->solid = "crown";
  const std::vector<std::string> names = names_in_step(build_parts(again, {}, test::kCoarse));
  EXPECT_THAT(names, testing::Contains("intake pocket floor"));
  again.piston.step->faces = {{"intake pocket floor", Group::dish_floor, ""}, {"1", Group::mouth, "exhaust"}};
  const Parts read = build_parts(again, {}, test::kCoarse);
  for (std::size_t i = 0; i < names.size(); ++i) {
    const Face& face = read.crown.faces[i];
    if (names[i] == "intake pocket floor") {
      EXPECT_EQ(face.group, Group::dish_floor);
    }
  }
  EXPECT_EQ(read.crown.faces[0].group, Group::mouth);
  EXPECT_EQ(read.crown.faces[0].pocket, 1);
  EXPECT_FALSE(read.warnings.empty());  // of the intake's pocket no floor is left
}

/// The same word by a place on the face as by its name.
TEST(StepCrown, TakesTheUsersWordForAPlaceOnAFace) {
  const Engine engine = upright();
  const Parts parts = build_parts(engine, {}, test::kCoarse);
  Engine again = with_step(engine, exported(engine, parts));
  again.piston.step->solid = "crown";
  const std::vector<std::string> names = names_in_step(build_parts(again, {}, test::kCoarse));
  const auto floor = static_cast<std::size_t>(std::ranges::find(names, "intake pocket floor") - names.begin());
  ASSERT_LT(floor, names.size());
  const Pocket& pocket = engine.piston.pockets.at(0);
  ASSERT_EQ(pocket.tilt, 0);
  const Vec3 middle{pocket.x, pocket.y, -pocket.depth};
  const auto group_with = [&](Vec3 place) {
    again.piston.step->faces = {{"", Group::dish_floor, "", place}};
    return build_parts(again, {}, test::kCoarse).crown.faces.at(floor).group;
  };
  EXPECT_EQ(group_with(middle), Group::dish_floor);
  EXPECT_EQ(group_with(middle + Vec3{2, -1, 0.05}), Group::dish_floor);
  const auto refused_at = [&](Vec3 place) -> std::string {
    try {
      group_with(place);
    } catch (const InputError& error) {
      return error.faults().front().message;
    }
    return "";
  };
  EXPECT_THAT(refused_at(middle + Vec3{0, 0, 0.5}),
              testing::AllOf(HasSubstr("no face is within 0.100 mm"),
                             HasSubstr(fmt::format("{} (\"intake pocket floor\"), is 0.500 mm away", floor + 1))));
  EXPECT_THAT(refused_at(middle + Vec3{pocket.diameter / 2 - pocket.corner_radius, 0, 0}),
              HasSubstr("are both within"));
}

/// Valves elsewhere or nowhere near: no pocket is made up for them, and that is told.
TEST(StepCrown, TellsWhereAValveHasNoPocket) {
  Engine engine = upright();
  const Parts parts = build_parts(engine, {}, test::kCoarse);
  engine.valves[0].y = -25;
  const Parts read = build_parts(with_step(engine, step_text({parts.solids->crown.solid})), {}, test::kCoarse);
  std::string all;
  for (const Fault& warning : read.warnings) all += warning.message + "\n";
  EXPECT_THAT(all, HasSubstr("no pocket was found of valve \"intake\""));
  EXPECT_THAT(all, testing::Not(HasSubstr("valve \"exhaust\"")));
}

/// Rounded mouths and a rounded edge of the crown, as a designer draws them: all known by their surfaces. The gap of a
/// valve over the rounding of an upright pocket is that of two circles in one plane.
TEST(StepCrown, KnowsRoundedMouthsExactly) {
  Engine engine = upright();
  for (Pocket& pocket : engine.piston.pockets) pocket.mouth_break = 0;
  engine.piston.top_chamfer = 0;
  engine.piston.pockets[1].x = engine.valves[1].x = -22;  // no rounding reaches into the other pocket
  const Parts parts = build_parts(engine, {}, test::kCoarse);
  constexpr double kRound = 0.8;
  BRepFilletAPI_MakeFillet fillet(parts.solids->crown.solid);
  TopTools_IndexedDataMapOfShapeListOfShape around;
  TopExp::MapShapesAndUniqueAncestors(parts.solids->crown.solid, TopAbs_EDGE, TopAbs_FACE, around);
  int rounded = 0;
  for (int i = 1; i <= around.Extent(); ++i) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(around.FindKey(i)));
    if (curve.GetType() != GeomAbs_Circle || std::fabs(curve.Circle().Location().Z()) > 1e-9) continue;
    if (std::fabs(curve.Circle().Radius() - 39.0 / 2) > 1e-9) continue;
    fillet.Add(kRound, TopoDS::Edge(around.FindKey(i)));
    ++rounded;
  }
  ASSERT_GT(rounded, 0);
  fillet.Build();
  ASSERT_TRUE(fillet.IsDone());
  const Engine again = with_step(engine, step_text({fillet.Shape()}));
  const Parts read = build_parts(again, {});
  int mouths = 0;
  for (const Face& face : read.crown.faces) {
    EXPECT_NE(face.kind, Surface::free_form) << face.name;
    if (face.group != Group::mouth) continue;
    ++mouths;
    EXPECT_EQ(face.kind, Surface::torus);
    EXPECT_EQ(face.pocket, 0);
    EXPECT_NEAR(face.radius2, kRound, 1e-9);
  }
  EXPECT_GT(mouths, 0);
  // The rim's lower edge, sharp, at radius 17.5 above a mouth of radius 19.5 rounded by 0.8: its tube's centre is at
  // radius 20.3, 0.8 below the crown flat. All round the pocket, where it is whole, the gap is the same.
  const ValvePlace place{closed_place(engine, engine.valves[0]), up_axis(engine, engine.valves[0])};
  const ValveToPiston valve(make_target(read.crown), read.profiles[0], place, 0);
  for (const double above : {0.2, 1.0, 2.5}) {
    const Pose pose{place.closed.z - 5 - above, 5};
    const double expected = std::hypot(20.3 - 17.5, 0.8 + above) - 0.8;
    EXPECT_NEAR(valve.gaps(pose, {}).closest.value, expected, 1e-5);  // the kernel searches edges to that
  }
}

}  // namespace
}  // namespace eyebrow
