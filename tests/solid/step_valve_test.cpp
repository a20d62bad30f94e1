// Valves from STEP: their own gaps again, wherever they are in a file; what a designer draws and numbers do not; what
// is refused.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <GeomAPI_PointsToBSpline.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <functional>

#include "eyebrow/gap.hpp"
#include "eyebrow/spec.hpp"
#include "solid/changed_text.hpp"
#include "solid/engines.hpp"
#include "solid/occt.hpp"
#include "solid/outline_volume.hpp"
#include "solid/solids.hpp"
#include "solid/step_files.hpp"

namespace eyebrow {
namespace {

using test::step_text;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr double kSameOutline = 1e-6, kSameValveGap = 0.002;  // mm

/// The valve from that text; none of its numbers but the two that are needed are left.
void take_valve(Engine& engine, std::size_t number, const std::string& text, const std::string& solid = "") {
  Valve& valve = engine.valves[number];
  valve.margin = valve.seat_angle = valve.seat_width = valve.face_depth = valve.rim_radius = valve.underhead_angle = 0;
  valve.face = FaceShape::flat;
  valve.step = StepValve{"valve.step", std::make_shared<const std::string>(text), solid};
}

/// One valve over a plain crown, to make outlines of.
Engine one_valve() {
  Engine e = test::plain();
  e.valves = {test::valve("intake", Role::intake, -1, 34, 1.2, 15, 3, 12, 30, 6, 6)};
  e.lobes = {test::lobe("intake", Role::intake, 10)};
  return e;
}

Parts with_valve(const TopoDS_Shape& solid, const std::function<void(Engine&)>& change = {}) {
  Engine e = one_valve();
  take_valve(e, 0, step_text({solid}));
  if (change) change(e);
  return build_parts(e, {}, test::kCoarse);
}

/// What is said of it; empty = it was taken.
std::string valve_refusal(const std::string& text, const std::function<void(Engine&)>& change = {}) {
  Engine e = one_valve();
  take_valve(e, 0, text);
  if (change) change(e);
  try {
    build_parts(e, {}, test::kCoarse);
    return "";
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults().size(), 1u);
    EXPECT_THAT(error.faults().front().key + error.faults().front().message, HasSubstr("valve"));
    return error.what();
  }
}

void expect_same_outline(const Profile& one, const Profile& other) {
  EXPECT_NEAR(one.rim_radius, other.rim_radius, kSameOutline);
  EXPECT_NEAR(one.margin, other.margin, kSameOutline);
  EXPECT_NEAR(one.edge_radius, other.edge_radius, kSameOutline);
  EXPECT_NEAR(one.lowest, other.lowest, kSameOutline);
  ASSERT_EQ(one.elements.size(), other.elements.size());
  for (std::size_t i = 0; i + 2 < one.elements.size(); ++i) {
    SCOPED_TRACE(i);
    const ProfileElement &a = one.elements[i], &b = other.elements[i];
    EXPECT_EQ(a.part, b.part);
    EXPECT_EQ(a.radius > 0, b.radius > 0);
    EXPECT_NEAR(a.radius, b.radius, kSameOutline);
    EXPECT_EQ(a.bulges, b.bulges);
    for (const auto& [p, q] : {std::pair{a.from, b.from}, {a.to, b.to}, {a.centre, b.centre}}) {
      EXPECT_NEAR(p.r, q.r, kSameOutline);
      EXPECT_NEAR(p.w, q.w, kSameOutline);
    }
  }
}

/// Somewhere in the file, upside down or not.
TopoDS_Shape put_elsewhere(const TopoDS_Shape& valve, bool over) {
  gp_Trsf turn, shift;
  turn.SetRotation(gp_Ax1(gp_Pnt(1, 2, 3), gp_Dir(0.3, -0.5, 0.8)), over ? 2.8 : 0.9);
  shift.SetTranslation(gp_Vec(120, -45, 310));
  return BRepBuilderAPI_Transform(valve, shift * turn, true).Shape();
}

struct Shaped {
  const char* name;
  FaceShape face;
  double depth, rim_radius;
};

TEST(StepValve, OfAnyShapeOfOursComesBackFromAnywhereInAFile) {
  for (const Shaped& shaped : {Shaped{"flat", FaceShape::flat, 0, 0},
                               {"flat, rounded", FaceShape::flat, 0, 0.5},
                               {"dished", FaceShape::dished, 1.5, 0},
                               {"dished, rounded", FaceShape::dished, 1.5, 0.4},
                               {"domed", FaceShape::domed, 1, 0},
                               {"domed, rounded", FaceShape::domed, 1, 0.3}}) {
    SCOPED_TRACE(shaped.name);
    Engine engine = one_valve();
    engine.valves[0].face = shaped.face;
    engine.valves[0].face_depth = shaped.depth;
    engine.valves[0].rim_radius = shaped.rim_radius;
    const Parts parts = build_parts(engine, {}, test::kCoarse);
    for (const bool over : {false, true})
      for (const char* unit : {"MM", "INCH"}) {
        Engine again = engine;
        take_valve(again, 0, step_text({put_elsewhere(parts.solids->valves[0], over)}, unit));
        const Parts read = build_parts(again, {}, test::kCoarse);
        EXPECT_THAT(read.warnings, IsEmpty());
        EXPECT_EQ(read.profiles[0].back_error, 0);
        expect_same_outline(parts.profiles[0], read.profiles[0]);
        EXPECT_NEAR(volume_of(read.solids->valves[0]), outline_volume(read.profiles[0]), 1e-6 * parts.crown.volume);
      }
  }
}

/// Other programs write planes and cylinders as splines.
TEST(StepValve, AsSplinesIsTheSame) {
  for (const FaceShape face : {FaceShape::flat, FaceShape::dished, FaceShape::domed}) {
    Engine engine = one_valve();
    engine.valves[0].face = face;
    engine.valves[0].face_depth = face == FaceShape::flat ? 0 : 1.2;
    engine.valves[0].rim_radius = 0.4;
    const Parts parts = build_parts(engine, {}, test::kCoarse);
    Engine again = engine;
    const TopoDS_Shape splines =
        BRepBuilderAPI_NurbsConvert(put_elsewhere(parts.solids->valves[0], true), true).Shape();
    take_valve(again, 0, step_text({splines}));
    EXPECT_THAT(*again.valves[0].step->text, Not(HasSubstr("CYLINDRICAL_SURFACE")));
    const Parts read = build_parts(again, {}, test::kCoarse);
    EXPECT_EQ(read.profiles[0].back_error, 0);
    expect_same_outline(parts.profiles[0], read.profiles[0]);
  }
}

/// All of an engine out of the one file that it was exported to: crown and valves found in it by themselves.
TEST(StepValve, AWholeAssemblyInOneFileGivesTheSameGaps) {
  for (const char* name :
       {"two_valve_wedge", "four_valve_pent_roof", "inline_six_stock", "inline_six_big_valve", "canted_valve"}) {
    SCOPED_TRACE(name);
    const Engine engine = read_engine(std::string(EYEBROW_MODELS "/") + name + ".toml").engine;
    const Parts parts = build_parts(engine, {});
    const std::string text = test::exported(engine, parts);
    Engine again = test::with_step(engine, text);
    for (std::size_t i = 0; i < again.valves.size(); ++i) take_valve(again, i, text);
    const Parts read = build_parts(again, {});
    std::vector<std::string> told;
    for (const Fault& warning : read.warnings) told.push_back(warning.message);
    EXPECT_THAT(told, testing::Contains(HasSubstr("\"crown\" was taken for the crown, as no other fits")));
    const std::string first = "\"valve " + engine.valves[0].name + "\" was taken for valve \"" + engine.valves[0].name;
    EXPECT_THAT(told, testing::Contains(HasSubstr(first)));

    int compared = 0;
    for (std::size_t i = 0; i < engine.valves.size(); ++i) expect_same_outline(parts.profiles[i], read.profiles[i]);
    test::over_poses(engine, parts, again, read, [&](const PoseGaps& was, const PoseGaps& is) {
      for (const GapKind kind : kGapKinds) {
        if (was[kind].status == GapStatus::jump || is[kind].status == GapStatus::jump) continue;
        EXPECT_EQ(was[kind].status, is[kind].status) << to_string(kind);
        if (!was[kind].measured() || !is[kind].measured()) continue;
        ++compared;
        EXPECT_NEAR(was[kind].value, is[kind].value, kSameValveGap) << to_string(kind);
      }
    });
    EXPECT_GT(compared, 60);
  }
}

// A valve as a designer draws it: fillet, undercut stem, groove for the locks, chamfered tip, hollow for the sodium.

Point2 shifted(Point2 from, double dr, double dw) {
  return {from.r + dr, from.w + dw};
}

struct Drawn {
  std::vector<ProfileElement> outline;
  Drawn& line(double r, double w) { return add(line_piece(at, {r, w})); }
  Drawn& arc(double r, double w, Point2 centre) {
    return add(arc_piece(at, {r, w}, centre, std::hypot(r - centre.r, w - centre.w)));
  }
  Drawn& add(const ProfileElement& piece) {
    outline.push_back(piece);
    at = piece.to;
    return *this;
  }
  TopoDS_Shape solid() const { return revolve(outline, Frame{}); }
  Point2 at{0, 0};
};

/// Rim 34 wide, margin 1.2, seat of 45 and 30 degrees, a fillet of 9 mm into the stem of 6.
Drawn drawn_head(double stem) {
  Drawn drawn;
  drawn.line(17, 0).line(17, 1.2).line(15.5, 2.7).line(14.1, 2.7 + 1.4 * std::tan(30 * kDegree));
  drawn.line(12, drawn.at.w + 2.1 * std::tan(20 * kDegree));
  // A fillet that starts along that cone and ends upright at the stem: its middle lies square to both.
  const double g = 20 * kDegree, radius = (12 - stem) / (1 - std::sin(g));
  const Point2 centre = shifted(drawn.at, radius * std::sin(g), radius * std::cos(g));
  return drawn.arc(centre.r - radius, centre.w, centre);
}

TEST(StepValve, WithFilletLockGrooveAndTipIsHeldByItsOutline) {
  Drawn drawn = drawn_head(3);
  const double foot = drawn.at.w;
  drawn.line(3, foot + 60).line(2.5, foot + 60.5).line(2.5, foot + 62).line(3, foot + 62.5).line(3, foot + 66);
  drawn.line(2.6, foot + 66.4).line(0, foot + 66.4);
  const Parts parts = with_valve(put_elsewhere(drawn.solid(), true));
  const Profile& profile = parts.profiles[0];
  EXPECT_GT(profile.back_error, 0.001);
  EXPECT_LE(profile.back_error, 0.0201);
  ASSERT_EQ(parts.warnings.size(), 1u);
  EXPECT_THAT(parts.warnings[0].message, HasSubstr("the back of valve \"intake\" is simplified, at most"));
  EXPECT_LT(profile.elements.size(), 20u);
  EXPECT_GT(profile.top, 100);
  // What faces the piston, and the seats, to the micrometre; of the rest no more than the stated error outside.
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_NEAR(profile.elements[i].to.r, drawn.outline[i].to.r, kSameOutline) << i;
    EXPECT_NEAR(profile.elements[i].to.w, drawn.outline[i].to.w, kSameOutline) << i;
  }
  const ProfileElement& fillet = drawn.outline[5];
  for (const ProfileElement& e : profile.elements) {
    if (e.part != ValvePart::underhead || e.from.w < fillet.from.w - 1e-9) continue;
    for (int k = 0; k <= 20; ++k) {
      const Point2 p{e.from.r + (e.to.r - e.from.r) * k / 20, e.from.w + (e.to.w - e.from.w) * k / 20};
      const double outside = fillet.radius - std::hypot(p.r - fillet.centre.r, p.w - fillet.centre.w);
      EXPECT_GE(outside, -1e-6);  // the metal is outside of the fillet's circle
      EXPECT_LE(outside, profile.back_error + 1e-6);
    }
  }
}

TEST(StepValve, WithAThinnerStemBelowIsTakenAsThickAsAbove) {
  Drawn drawn = drawn_head(2.7);
  const double foot = drawn.at.w;
  drawn.line(2.7, foot + 12).line(3, foot + 12.3).line(3, foot + 60).line(0, foot + 60);
  const Parts parts = with_valve(drawn.solid());
  EXPECT_NEAR(parts.profiles[0].back_error, 0.3, 1e-6);
  const auto& elements = parts.profiles[0].elements;
  EXPECT_NEAR(elements[elements.size() - 2].from.r, 3, 1e-9);
}

TEST(StepValve, HollowForSodiumIsTheSameFromOutside) {
  Drawn drawn = drawn_head(3);
  drawn.line(3, drawn.at.w + 60).line(0, drawn.at.w);
  const TopoDS_Shape hollow = BRepPrimAPI_MakeCylinder(gp_Ax2({0, 0, 6}, gp::DZ()), 1.5, 50).Shape();
  const Parts solid = with_valve(drawn.solid()), cooled = with_valve(BRepAlgoAPI_Cut(drawn.solid(), hollow).Shape());
  expect_same_outline(solid.profiles[0], cooled.profiles[0]);
}

/// Free form above the seat: a tulip by a spline, hollow and then bulging.
TEST(StepValve, WithABackByASplineIsHeldByItsOutline) {
  const std::vector<Point2> through{{15.5, 2.7}, {13, 3.6}, {10, 4.9}, {7, 6.4}, {4.6, 9}, {3.4, 13}, {3, 19}};
  TColgp_Array1OfPnt points(1, static_cast<int>(through.size()));
  for (std::size_t i = 0; i < through.size(); ++i)
    points.SetValue(static_cast<int>(i) + 1, gp_Pnt(through[i].r, 0, through[i].w));
  const Handle(Geom_BSplineCurve) spline = GeomAPI_PointsToBSpline(points, 3, 8, GeomAbs_C2, 1e-6).Curve();
  BRepBuilderAPI_MakeWire wire;
  const auto line = [&](double r, double w, double to_r, double to_w) {
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(r, 0, w), gp_Pnt(to_r, 0, to_w)));
  };
  line(0, 0, 17, 0);
  line(17, 0, 17, 1.2);
  line(17, 1.2, 15.5, 2.7);
  wire.Add(BRepBuilderAPI_MakeEdge(spline));
  line(3, 19, 3, 80);
  line(3, 80, 0, 80);
  line(0, 80, 0, 0);
  TopoDS_Shape solid = BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire(), true).Face(), gp::OZ()).Shape();
  if (volume_of(solid) < 0) solid.Reverse();
  const Parts parts = with_valve(put_elsewhere(solid, false));
  const Profile& profile = parts.profiles[0];
  EXPECT_GT(profile.back_error, 0.001);
  EXPECT_LE(profile.back_error, 0.0201);
  int looked_at = 0;
  for (int k = 0; k <= 500; ++k) {
    const gp_Pnt p =
        spline->Value(spline->FirstParameter() + (spline->LastParameter() - spline->FirstParameter()) * k / 500);
    double inside = INFINITY;
    for (const ProfileElement& e : profile.elements) {
      if (e.part != ValvePart::underhead || p.Z() < e.from.w - 1e-9 || p.Z() > e.to.w + 1e-9) continue;
      const double r =
          e.to.w > e.from.w ? e.from.r + (e.to.r - e.from.r) * (p.Z() - e.from.w) / (e.to.w - e.from.w) : e.from.r;
      inside = std::min(inside, r - p.X());
    }
    if (!std::isfinite(inside)) continue;
    ++looked_at;
    EXPECT_GE(inside, -2e-5);
  }
  EXPECT_GT(looked_at, 450);
}

/// A bevelled rim over a flat crown, tilted: the nearest circle decides, in closed form.
TEST(StepValve, WithABevelledRimHasItsOwnGaps) {
  Drawn drawn;
  drawn.line(16.2, -0.5).line(17, 0).line(17, 1.2).line(15.5, 2.7).line(3, 8).line(3, 70).line(0, 70);
  drawn.outline.front() = line_piece({0, -0.5}, {16.2, -0.5});
  const Parts parts = with_valve(drawn.solid());
  const Profile& profile = parts.profiles[0];
  EXPECT_NEAR(profile.lowest, -0.5, 1e-9);
  EXPECT_NEAR(profile.margin, 1.2, 1e-9);
  int compared = 0;
  for (const double tilt : {0.0, 10.0, 25.0, 31.0, 33.0, 50.0}) {
    SCOPED_TRACE(tilt);
    const double g = tilt * kDegree;
    const ValvePlace place{{2, -1, 20}, {std::sin(g), 0, std::cos(g)}};
    const ValveToPiston valve(make_target(parts.crown), profile, place, -1);
    for (const double height : {0.0, 5.0, 10.0}) {
      const PoseGaps gaps = valve.gaps({height, 1}, {});
      const double centre = 20 - height - std::cos(g);
      const double low = std::min(-0.5 * std::cos(g) - 16.2 * std::sin(g), -17 * std::sin(g));
      if (centre + low < 0) continue;
      ++compared;
      EXPECT_NEAR(gaps.closest.value, centre + low, 1e-6);
      EXPECT_NEAR(gaps.face.value, centre + low, 1e-6);
      EXPECT_NEAR(gaps.travel.value, (centre + low) / std::cos(g), 1e-6);
    }
  }
  EXPECT_GE(compared, 12);
}

TEST(StepValveRefused, WhatIsNoValve) {
  EXPECT_THAT(valve_refusal(step_text({BRepPrimAPI_MakeBox(10, 20, 30).Shape()})),
              HasSubstr("has no cylinder, so no stem"));
  EXPECT_THAT(valve_refusal(step_text({BRepPrimAPI_MakeSphere(17).Shape()})), HasSubstr("has no cylinder, so no stem"));
  EXPECT_THAT(valve_refusal(step_text({BRepPrimAPI_MakeCylinder(17, 80).Shape()})),
              AllOf(HasSubstr("is the stated stem, 6.000 mm"), HasSubstr("the nearest is 34.000 mm")));
  EXPECT_THAT(valve_refusal(step_text({BRepPrimAPI_MakeCylinder(3, 80).Shape()})),
              HasSubstr("its head is 6.000 mm wide"));
  EXPECT_THAT(valve_refusal(""), HasSubstr("not a STEP file"));
  EXPECT_THAT(valve_refusal("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n"), Not(""));
  // A pipe of a valve's diameters.
  const TopoDS_Shape pipe = BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(17, 40).Shape(),
                                            BRepPrimAPI_MakeCylinder(gp_Ax2({0, 0, -1}, gp::DZ()), 3, 42).Shape());
  EXPECT_THAT(valve_refusal(step_text({pipe})), HasSubstr("hollow all the way through"));
}

TopoDS_Shape drawn_valve() {
  Drawn drawn = drawn_head(3);
  return drawn.line(3, drawn.at.w + 60).line(0, drawn.at.w).solid();
}

TEST(StepValveRefused, WhatIsNotOfRevolution) {
  const TopoDS_Shape valve = drawn_valve();
  ASSERT_EQ(valve_refusal(step_text({valve})), "");
  const TopoDS_Shape keyway = BRepAlgoAPI_Cut(valve, BRepPrimAPI_MakeBox(gp_Pnt(2, -1, 40), gp_Pnt(5, 1, 50)).Shape());
  EXPECT_THAT(valve_refusal(step_text({keyway})), AllOf(HasSubstr("no solid of revolution"), HasSubstr("face ")));
  const TopoDS_Shape flat = BRepAlgoAPI_Cut(valve, BRepPrimAPI_MakeBox(gp_Pnt(2.5, -9, 40), gp_Pnt(9, 9, 99)).Shape());
  EXPECT_THAT(valve_refusal(step_text({flat})), HasSubstr("no solid of revolution"));
  const TopoDS_Shape hole =
      BRepAlgoAPI_Cut(valve, BRepPrimAPI_MakeCylinder(gp_Ax2({-9, 0, 50}, gp::DX()), 0.7, 20).Shape());
  EXPECT_THAT(valve_refusal(step_text({hole})), HasSubstr("no solid of revolution"));
  // A dimple in the face beside the axis, two for a tool.
  const TopoDS_Shape dimple =
      BRepAlgoAPI_Cut(valve, BRepPrimAPI_MakeCylinder(gp_Ax2({8, 0, -1}, gp::DZ()), 1, 2).Shape());
  EXPECT_THAT(valve_refusal(step_text({dimple})), AllOf(HasSubstr("no solid of revolution"), HasSubstr("face ")));
  // Half of it.
  const TopoDS_Shape half = BRepAlgoAPI_Cut(valve, BRepPrimAPI_MakeBox(gp_Pnt(-20, 0, -5), gp_Pnt(20, 20, 99)).Shape());
  EXPECT_THAT(valve_refusal(step_text({half})), HasSubstr("no solid of revolution"));
  // A second stem beside it.
  const TopoDS_Shape twin =
      BRepAlgoAPI_Fuse(valve, BRepPrimAPI_MakeCylinder(gp_Ax2({10, 0, 1}, gp::DZ()), 3, 20).Shape());
  EXPECT_THAT(valve_refusal(step_text({twin})), HasSubstr("no solid of revolution"));
}

TEST(StepValveRefused, WhatTheKernelHasNoFaceFor) {
  const auto rest = [](Drawn drawn) {
    return drawn.line(17, 1.2).line(15.5, 2.7).line(3, 8).line(3, 70).line(0, 70).solid();
  };
  Drawn cone;
  cone.outline.clear();
  cone.at = {0, 2};
  EXPECT_THAT(valve_refusal(step_text({rest(cone.line(17, 0))})), HasSubstr("is neither a plane nor a ball"));
  Drawn recess;
  recess.at = {0, 0.6};
  EXPECT_THAT(valve_refusal(step_text({rest(recess.line(6, 0.6).line(6, 0).line(17, 0))})),
              HasSubstr("makes it hollow"));
  Drawn boss;
  boss.at = {0, -0.6};
  EXPECT_THAT(valve_refusal(step_text({rest(boss.line(6, -0.6).line(6, 0).line(17, 0))})),
              HasSubstr("stands out of it"));
  Drawn sharp;
  EXPECT_THAT(valve_refusal(step_text({sharp.line(17, 0).line(3, 8).line(3, 70).line(0, 70).solid()})),
              HasSubstr("no cylinder behind the rim"));
  Drawn undercut;
  undercut.line(17, 0).line(17, 1.2).line(10, 4).line(10, 6).line(12, 7).line(3, 12).line(3, 70).line(0, 70);
  EXPECT_THAT(valve_refusal(step_text({undercut.solid()})), HasSubstr("an undercut behind the seat"));
}

TEST(StepValveRefused, WhatDoesNotAgreeWithTheReadings) {
  const std::string text = step_text({drawn_valve()});
  EXPECT_THAT(valve_refusal(text, [](Engine& e) { e.valves[0].head_diameter = 35; }),
              HasSubstr("its head is 34.000 mm wide, not 35.000 mm as stated"));
  EXPECT_THAT(valve_refusal(text, [](Engine& e) { e.valves[0].stem_diameter = 7; }),
              AllOf(HasSubstr("the stated stem, 7.000 mm"), HasSubstr("the nearest is 6.000 mm")));
  // Drawn in inches, written as if they were mm.
  gp_Trsf shrink;
  shrink.SetScale(gp::Origin(), 1 / 25.4);
  EXPECT_THAT(valve_refusal(step_text({BRepBuilderAPI_Transform(drawn_valve(), shrink, true).Shape()})),
              HasSubstr("nearly 25.4 times too small: inches taken for mm"));
  EXPECT_EQ(valve_refusal(text, [](Engine& e) { e.valves[0].head_diameter = 34.04; }), "");
  const std::string two = step_text({drawn_valve(), put_elsewhere(drawn_valve(), true)});
  EXPECT_EQ(valve_refusal(two), "") << "two of one shape";
  Drawn other = drawn_head(3);
  const std::string differ = step_text({drawn_valve(), other.line(3, 50).line(0, 50).solid()});
  EXPECT_THAT(valve_refusal(differ), HasSubstr("holds 2 solids"));
  EXPECT_EQ(valve_refusal(differ, [](Engine& e) { e.valves[0].step->solid = "2"; }), "");
  EXPECT_THAT(valve_refusal(differ, [](Engine& e) { e.valves[0].step->solid = "exhaust"; }),
              HasSubstr("holds no solid \"exhaust\""));
}

TEST(StepValveRefused, WhatIsBroken) {
  const std::string good = step_text({drawn_valve()});
  const auto without = [&](const std::string& what, const std::string& by) {
    std::string text = good;
    text.replace(text.find(what), what.size(), by);
    return text;
  };
  EXPECT_THAT(valve_refusal(good.substr(0, good.size() / 2)), Not(""));
  EXPECT_THAT(valve_refusal(without("MANIFOLD_SOLID_BREP('',#", "MANIFOLD_SOLID_BREP('',#9999")), Not(""));
  EXPECT_THAT(valve_refusal(without("TOROIDAL_SURFACE('',#", "TOROIDAL_SURFACE('',#9999")), Not(""));
  const auto open = good.find("(#", good.find("CLOSED_SHELL")), comma = good.find(',', open);
  EXPECT_THAT(valve_refusal(good.substr(0, open + 1) + good.substr(comma + 1)), Not("")) << "an open shell";
}

TEST(StepValveRefused, NoChangeOfAFileEndsTheProgram) {
  expect_no_change_ends_the_program(step_text({drawn_valve()}), 11,
                                    [](const std::string& text) { return valve_refusal(text); });
}

}  // namespace
}  // namespace eyebrow
