// STEP files that hold no crown: each must be refused in words, and none may end the program.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_GTransform.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Compound.hxx>
#include <gp_GTrsf.hxx>
#include <gp_Trsf.hxx>

#include <functional>

#include "eyebrow/parts.hpp"
#include "solid/changed_text.hpp"
#include "solid/engines.hpp"
#include "solid/step_files.hpp"

namespace eyebrow {
namespace {

using test::step_text;
using test::with_step;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

constexpr double kCoarseMesh = 0.05;

/// A plain disc of the crown's size.
TopoDS_Shape disc(double radius = 40, double height = 12, gp_Pnt at = {0, 0, -12}, gp_Dir up = {0, 0, 1}) {
  return BRepPrimAPI_MakeCylinder(gp_Ax2(at, up), radius, height).Shape();
}

TopoDS_Shape scaled(const TopoDS_Shape& shape, double by) {
  gp_Trsf scale;
  scale.SetScale({0, 0, 0}, by);
  return BRepBuilderAPI_Transform(shape, scale, true).Shape();
}

/// Its faces, loose.
TopoDS_Shape loose(const TopoDS_Shape& solid) {
  TopoDS_Compound faces;
  BRep_Builder builder;
  builder.MakeCompound(faces);
  for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next()) builder.Add(faces, each.Current());
  return faces;
}

TopoDS_Shape many_sided(int sides) {
  BRepBuilderAPI_MakePolygon polygon;
  for (int i = 0; i < sides; ++i)
    polygon.Add(gp_Pnt(40 * std::cos(2 * kPi * i / sides), 40 * std::sin(2 * kPi * i / sides), -12));
  polygon.Close();
  return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(polygon.Wire()).Face(), gp_Vec(0, 0, 12)).Shape();
}

std::string replaced_once(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

/// What build_parts refuses; "" when it refuses nothing.
std::string refusal(const std::string& text, const std::function<void(Engine&)>& change = {}) {
  Engine engine = with_step(test::plain(), text);
  if (change) change(engine);
  testing::internal::CaptureStdout();
  testing::internal::CaptureStderr();
  std::string said;
  try {
    build_parts(engine, {}, kCoarseMesh);
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults().size(), 1u);
    EXPECT_FALSE(error.faults().front().key.empty());
    said = error.faults().front().message;
  }
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
  return said;
}

TEST(StepRefused, WhatIsNoStepFile) {
  const std::string good = step_text({disc()});
  EXPECT_EQ(refusal(good), "");
  const auto not_step = HasSubstr("not a STEP file");
  EXPECT_THAT(refusal(""), not_step);
  EXPECT_THAT(refusal("solid crown\nfacet normal 0 0 1\n"), not_step);
  EXPECT_THAT(refusal("PK\x03\x04 something packed"), not_step);
  EXPECT_THAT(refusal("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n"), Not(""));
  EXPECT_THAT(refusal(good.substr(0, good.size() / 2)), HasSubstr("may have been cut short"));
  EXPECT_THAT(refusal(good.substr(0, good.rfind("ENDSEC;"))), HasSubstr("may have been cut short"));
  EXPECT_THAT(refusal(good.substr(0, good.find("DATA;"))), Not(""));
  const std::string twice = "ENDSEC;\nEND-ISO",
                    first = good.substr(good.find("#1 ="), good.find('\n', good.find("#1 =")) - good.find("#1 ="));
  EXPECT_THAT(refusal(replaced_once(good, twice, first + "\n" + twice)), HasSubstr("#1 is defined twice"));
  EXPECT_THAT(refusal(replaced_once(good, twice, "#99999 = PRODUCT_CONTEXT('',#88888,'');\n" + twice)),
              HasSubstr("#88888 is named, and not defined"));
}

TEST(StepRefused, WhatHoldsNoCrown) {
  EXPECT_THAT(refusal(step_text({loose(disc())})), HasSubstr("holds surfaces and no solid"));
  EXPECT_THAT(refusal(step_text({BRepPrimAPI_MakeBox(gp_Pnt(-40, -40, -12), gp_Pnt(40, 40, 0)).Shape()})),
              HasSubstr("has no outside cylinder"));
  EXPECT_THAT(refusal(step_text({BRepPrimAPI_MakeSphere(40).Shape()})), HasSubstr("has no outside cylinder"));
  gp_GTrsf oval;
  oval.SetValue(1, 1, 0.98);
  EXPECT_THAT(refusal(step_text({BRepBuilderAPI_GTransform(disc(), oval).Shape()})),
              HasSubstr("1 of its 3 faces are free form"));
  // A plate with a hole of the crown's size: a cylinder, with the metal around it.
  const TopoDS_Shape plate = BRepPrimAPI_MakeBox(gp_Pnt(-60, -60, -10), gp_Pnt(60, 60, -2)).Shape();
  EXPECT_THAT(refusal(step_text({BRepAlgoAPI_Cut(plate, disc()).Shape()})), HasSubstr("has no outside cylinder"));
  EXPECT_THAT(refusal(step_text({disc(30)})),
              AllOf(HasSubstr("fits the stated crown_diameter of 80"), HasSubstr("60")));
  EXPECT_THAT(refusal(step_text({disc(30)}), [](Engine& e) { e.piston.crown_diameter = 0; }),
              HasSubstr("fits the bore of 80.5"));
  // A half ball on the disc leaves no plane to measure from.
  const TopoDS_Shape dome = BRepPrimAPI_MakeSphere(gp_Pnt(0, 0, 0), 40, 0, kPi / 2).Shape();
  EXPECT_THAT(refusal(step_text({BRepAlgoAPI_Fuse(disc(), dome).Shape()})), HasSubstr("no crown flat"));
}

TEST(StepRefused, WhatIsOfAnotherSizeWithAWordOnUnits) {
  const TopoDS_Shape crown = disc();
  EXPECT_THAT(refusal(step_text({scaled(crown, 1000)})), HasSubstr("1000 times too large"));
  EXPECT_THAT(refusal(step_text({scaled(crown, 1e-3)})), Not(""));
  EXPECT_THAT(refusal(step_text({scaled(crown, 1 / kInch)})),
              AllOf(HasSubstr("25.4 times too small"), HasSubstr("inches taken for mm")));
  EXPECT_THAT(refusal(step_text({scaled(crown, kInch)})), HasSubstr("25.4 times too large"));
  EXPECT_EQ(refusal(step_text({crown}, "INCH")), "");
  EXPECT_EQ(refusal(step_text({crown}, "M")), "");
}

TEST(StepRefused, WhatIsNotClear) {
  const std::string two = step_text({disc(), disc(40, 12, {200, 0, 0})});
  EXPECT_THAT(refusal(two), HasSubstr("holds 2 solids"));
  EXPECT_EQ(refusal(two, [](Engine& e) { e.piston.step->solid = "2"; }), "");
  // An assembly in which nothing fits: the crown's shell is open, or the unit is not what it says.
  const TopoDS_Shape block = BRepPrimAPI_MakeBox(gp_Pnt(-40, -40, -12), gp_Pnt(40, 40, 0)).Shape();
  EXPECT_THAT(refusal(step_text({block, disc(20)})), HasSubstr("None has the diameters that are stated of the crown"));
  EXPECT_THAT(refusal(step_text({block, disc(20), loose(disc())})),
              HasSubstr("Beside them are 3 faces that do not close into a solid"));
  EXPECT_THAT(refusal(two, [](Engine& e) { e.piston.step->solid = "3"; }), HasSubstr("holds no solid \"3\""));
  EXPECT_THAT(refusal(step_text({disc(40, 12, {0, 0, 0}, {1, 0, 0})})), HasSubstr("say which of the file's axes"));
  EXPECT_THAT(refusal(step_text({disc()}),
                      [](Engine& e) {
                        e.piston.step->up = Vec3{1, 0, 0};
                      }),
              HasSubstr("not about the stated one"));
  EXPECT_THAT(refusal(step_text({disc()}),
                      [](Engine& e) {
                        e.piston.step->front = Vec3{0, 0, 1};
                      }),
              HasSubstr("along the bore axis"));
  EXPECT_THAT(refusal(step_text({disc(40, 12, {0, 0, 0}, {0, 1, 0})}),
                      [](Engine& e) {
                        e.piston.step->up = Vec3{0, 1, 0};
                      }),
              HasSubstr("the file's y lies along the bore axis"));
  // Half the crown stands 3 mm higher.
  const TopoDS_Shape step = BRepPrimAPI_MakeBox(gp_Pnt(0, -50, -3), gp_Pnt(50, 50, 5)).Shape();
  const std::string stepped = step_text({BRepAlgoAPI_Cut(disc(), step).Shape()});
  EXPECT_THAT(refusal(stepped), AllOf(HasSubstr("crown flat is not clear"), HasSubstr("-3.000 mm")));
  EXPECT_EQ(refusal(stepped, [](Engine& e) { e.piston.step->flat = 0; }), "");
  // Two cylinders that both fit.
  const TopoDS_Shape pair = BRepAlgoAPI_Fuse(disc(), disc(40, 12, {30, 0, -12})).Shape();
  EXPECT_THAT(refusal(step_text({pair})), HasSubstr("bore axis is not clear"));
  EXPECT_THAT(refusal(step_text({disc()}),
                      [](Engine& e) {
                        e.piston.step->faces = {{"no such", Group::dome, ""}};
                      }),
              HasSubstr("has no face \"no such\""));
  EXPECT_THAT(refusal(step_text({disc()}),
                      [](Engine& e) {
                        e.piston.step->faces = {{"1", Group::dome, ""}, {"2", Group::dome, ""}, {"1", Group::side, ""}};
                      }),
              HasSubstr("face 1 is said to be two things: dome and side"));
}

TEST(StepRefused, WhatIsNotSound) {
  EXPECT_THAT(refusal(step_text({many_sided(1010)})), HasSubstr("1012 faces"));
  const std::string good = step_text({disc()});
  // The shell without its first face.
  const auto shell = good.find("CLOSED_SHELL");
  const auto open = good.find("(#", shell), comma = good.find(',', open);
  EXPECT_THAT(refusal(good.substr(0, open + 1) + good.substr(comma + 1)), Not(""));
  EXPECT_THAT(refusal(replaced_once(good, "MANIFOLD_SOLID_BREP('',#", "MANIFOLD_SOLID_BREP('',#9999")), Not(""));
  EXPECT_THAT(refusal(replaced_once(good, "CYLINDRICAL_SURFACE('',#", "CYLINDRICAL_SURFACE('',#9999")), Not(""));
  for (const char* radius : {"1.E+300", "-40.", "0.", "1.E-300"}) {
    const auto at = good.find("CYLINDRICAL_SURFACE"), from = good.find(',', at) + 1;
    const auto to = good.find(',', from) + 1, end = good.find(')', to);
    EXPECT_THAT(refusal(good.substr(0, to) + radius + good.substr(end)), Not("")) << radius;
  }
}

/// A pocket whose wall has another radius than its edges.
TEST(StepRefused, EdgesThatLieOffTheirFaces) {
  const TopoDS_Shape pocket = disc(18, 30, {15, 5, -3});
  const std::string good = step_text({BRepAlgoAPI_Cut(disc(), pocket).Shape()});
  EXPECT_EQ(refusal(good), "");
  const auto wall = good.find("CYLINDRICAL_SURFACE"), other = good.find("CYLINDRICAL_SURFACE", wall + 1);
  const auto at = good.find("18.", wall) < good.find(';', wall) ? wall : other;
  const auto number = good.find("18.", at);
  ASSERT_LT(number, good.find(';', at));
  EXPECT_THAT(refusal(good.substr(0, number) + "18.2" + good.substr(number + 3)),
              AllOf(HasSubstr("edges lie 0.2 mm off the faces that they belong to")));
}

// The modeller's reader turns such a solid by itself, so that our own turn has nothing to tell here.
TEST(StepRefused, InsideOutIsReadAsMetal) {
  TopoDS_Shape crown = disc();
  crown.Reverse();
  const Engine engine = with_step(test::plain(), step_text({crown}));
  const Parts parts = build_parts(engine, {}, kCoarseMesh);
  EXPECT_NEAR(parts.crown.volume, kPi * 1600 * 12, 1);  // of a cylinder
}

TEST(StepRefused, NoChangeOfAFileEndsTheProgram) {
  const TopoDS_Shape pocket = disc(18, 30, {15, 5, -3}, {0.2, 0, 1});
  expect_no_change_ends_the_program(step_text({BRepAlgoAPI_Cut(disc(), pocket).Shape()}), 7,
                                    [](const std::string& text) { return refusal(text); });
}

}  // namespace
}  // namespace eyebrow
