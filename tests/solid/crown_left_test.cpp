// Crown left against closed form and against the modeller's distances between exact solids.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <random>

#include "eyebrow/crown_left.hpp"
#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"

namespace eyebrow {
namespace {

using test::pocket;
using To = MetalLeft::To;
using State = MetalLeft::State;

constexpr double kOutside = 40, kGroove = 3, kTopLand = 7, kUnderside = 11;
constexpr double kOff = 2e-4;  // mm: what the search leaves open, and a little of the mesh

Engine crown_with(std::vector<Pocket> pockets) {
  Engine e = test::plain();
  e.piston.top_land_height = kTopLand;
  e.piston.ring_groove_depth = kGroove;
  e.piston.underside = kUnderside;
  e.piston.pockets = std::move(pockets);
  return e;
}

MetalLeft wall_of(const Engine& engine, To to, const std::string& of = "a", double deflection = 0.0005) {
  for (const MetalLeft& each : crown_left(engine, build_parts(engine, {}, deflection).crown))
    if (each.to == to && each.pocket == of) return each;
  ADD_FAILURE() << "no such wall";
  return {};
}

void expect_measured(const MetalLeft& found, double value) {
  EXPECT_EQ(found.state, State::measured);
  EXPECT_NEAR(found.value, value, kOff);
  EXPECT_LE(found.low, value);
  EXPECT_GE(found.low, value - 0.002);
  EXPECT_NEAR(norm(found.point - found.beyond), found.value, 1e-6);
}

// Closed form. The nearest place of an upright pocket to the groove's edge is on their common azimuth.
TEST(CrownLeft, UprightSharpPocketToTheGroovesEdge) {
  const Engine e = crown_with({pocket("a", 16, 8, 0, 0, 34, 4)});
  const double out = std::hypot(16, 8) + 17;
  expect_measured(wall_of(e, To::ring_groove), std::hypot(kOutside - kGroove - out, kTopLand - 4));
}

// Closed form: a corner radius takes itself from the distance to its centre.
TEST(CrownLeft, UprightRoundedPocketToTheGroovesEdge) {
  const Engine e = crown_with({pocket("a", 16, 8, 0, 0, 34, 4, 2)});
  const double out = std::hypot(16, 8) + 17 - 2;
  expect_measured(wall_of(e, To::ring_groove), std::hypot(kOutside - kGroove - out, kTopLand - 2) - 2);
}

// Closed form: under the groove's top flank the wall stands straight behind the groove's floor, over it straight above.
TEST(CrownLeft, BehindAndAboveTheGroove) {
  expect_measured(wall_of(crown_with({pocket("a", 16, 0, 0, 0, 34, 9)}), To::ring_groove), 4);
  expect_measured(wall_of(crown_with({pocket("a", 23, 0, 0, 0, 30, 4)}), To::ring_groove), 3);
}

// Closed form: the lowest edge of a tilted floor.
TEST(CrownLeft, TiltedPocketToTheUnderside) {
  const MetalLeft found =
      wall_of(crown_with({pocket("a", 14, 3, 12, 30, 30, 5, 1.5, DepthTo::deepest)}), To::underside);
  expect_measured(found, kUnderside - 5);
  EXPECT_EQ(found.face, "a pocket corner");
}

// Closed form: two upright walls; two that lean alike, whose axes are a sine nearer along the lean.
TEST(CrownLeft, BetweenPockets) {
  expect_measured(
      wall_of(crown_with({pocket("a", 0, 17, 0, 0, 30, 4), pocket("b", 2, -17, 0, 0, 32, 3)}), To::neighbour),
      std::hypot(2, 34) - 31);
  const double tilt = 10;
  const Engine e = crown_with({pocket("a", 18, 0, tilt, 0, 30, 6), pocket("b", -18, 0, tilt, 0, 32, 6)});
  expect_measured(wall_of(e, To::neighbour), 36 * std::cos(tilt * kDegree) - 31);
}

// Two that lean apart are nearest at their floors' edges, two that lean together where they cross the crown flat: in
// the plane of both axes, worked out by hand.
TEST(CrownLeft, BetweenPocketsThatLeanTogetherOrApart) {
  const double tilt = 8 * kDegree, radius = 15;
  const Engine together = crown_with({pocket("a", 19, 0, 8, 180, 30, 5), pocket("b", -19, 0, 8, 0, 30, 5)});
  expect_measured(wall_of(together, To::neighbour), 2 * (19 - radius / std::cos(tilt)));
  // Leaning apart: the floors' low sides are outward; going down, the near walls come nearer by tan(tilt) a depth, down
  // to the floors' high edges, a floor's rise of 2 radius sin(tilt) above the low ones.
  const Engine apart = crown_with({pocket("a", 21, 0, 8, 0, 30, 7), pocket("b", -21, 0, 8, 180, 30, 7)});
  const double high_edge = 7 - 2 * radius * std::sin(tilt);
  expect_measured(wall_of(apart, To::neighbour), 2 * (21 - radius / std::cos(tilt) - high_edge * std::tan(tilt)));
}

// Closed form, the crown's edge with and without its chamfer.
TEST(CrownLeft, ToTheCrownsEdge) {
  Engine e = crown_with({pocket("a", 16, 0, 0, 0, 34, 4)});
  expect_measured(wall_of(e, To::edge), kOutside - 33);
  e.piston.top_chamfer = 2;
  expect_measured(wall_of(e, To::edge), kOutside - 2 - 33);
}

TEST(CrownLeft, ToADish) {
  Engine e = crown_with({pocket("a", 25, 0, 0, 0, 20, 4)});
  e.piston.dish = Dish{24, 3, 1, 0, 0};
  expect_measured(wall_of(e, To::neighbour), 25 - 10 - 12);
}

// Two mouths, each broken by 1 mm: their rims come 2 mm nearer.
TEST(CrownLeft, BrokenMouths) {
  std::vector<Pocket> pockets{pocket("a", 0, 17, 0, 0, 28, 4), pocket("b", 0, -17, 0, 0, 28, 4)};
  pockets[0].mouth_break = 1;
  expect_measured(wall_of(crown_with(pockets), To::neighbour), 34 - 28 - 1);
  std::swap(pockets[0].mouth_break, pockets[1].mouth_break);
  expect_measured(wall_of(crown_with(pockets), To::neighbour), 34 - 28 - 1);
  pockets[0].mouth_break = 1;
  expect_measured(wall_of(crown_with(pockets), To::neighbour), 34 - 28 - 2);
}

TEST(CrownLeft, TellsWhatIsOpen) {
  const Engine e =
      crown_with({pocket("a", 20, 0, 0, 0, 34, 8), pocket("b", -5, 0, 0, 0, 34, 3), pocket("c", 0, 30, 0, 0, 24, 3)});
  const MetalLeft groove = wall_of(crown_with({pocket("a", 22, 0, 0, 0, 34, 8)}), To::ring_groove);
  EXPECT_EQ(groove.state, State::open);
  EXPECT_NEAR(groove.value, -1, kOff);  // 1 mm under the top flank, 2 mm into the groove
  EXPECT_EQ(wall_of(e, To::neighbour).state, State::open);
  EXPECT_EQ(wall_of(e, To::edge, "c").state, State::open);
  EXPECT_EQ(wall_of(e, To::edge, "b").state, State::measured);
}

TEST(CrownLeft, SaysWhatIsNotKnown) {
  Engine e = crown_with({pocket("a", 16, 0, 0, 0, 34, 4)});
  e.piston.ring_groove_depth.reset();
  e.piston.underside.reset();
  const MetalLeft groove = wall_of(e, To::ring_groove), under = wall_of(e, To::underside);
  EXPECT_EQ(groove.state, State::not_known);
  EXPECT_EQ(groove.missing, "piston.ring_groove_depth");
  EXPECT_TRUE(std::isnan(groove.value));
  EXPECT_EQ(under.state, State::not_known);
  EXPECT_EQ(under.missing, "piston.underside");
}

/// The faces of one pocket, as the modeller has them.
TopoDS_Compound faces_of_pocket(const Parts& parts, int pocket) {
  TopoDS_Compound all;
  BRep_Builder builder;
  builder.MakeCompound(all);
  std::size_t i = 0;
  for (TopExp_Explorer face(parts.solids->crown.solid, TopAbs_FACE); face.More(); face.Next(), ++i)
    if (parts.solids->crown_faces[i].pocket == pocket) builder.Add(all, face.Current());
  return all;
}

double modelled(const TopoDS_Shape& one, const TopoDS_Shape& other) {
  return BRepExtrema_DistShapeShape(one, other).Value();
}

// Outside reference: Open CASCADE 7.6's distance between the exact faces of tilted pockets and a ring of metal that
// fills the groove. It is a search with one start, and never too small (see the notes on libraries): ours must not be
// above it, and may be below it only where it missed.
TEST(CrownLeft, AgreesWithTheModellersDistance) {
  std::mt19937 random(5);
  const auto draw = [&](double from, double to) { return std::uniform_real_distribution<>(from, to)(random); };
  int walls = 0, missed = 0;
  for (int run = 0; run < 6; ++run) {
    const double lean = draw(0, 360);
    const Engine e = crown_with({pocket("a", draw(8, 18), draw(10, 18), draw(0, 20), lean, draw(20, 26), draw(2, 6.5),
                                        run % 3, DepthTo::deepest),
                                 pocket("b", draw(8, 18), draw(-18, -10), draw(0, 20), lean + draw(-40, 40),
                                        draw(18, 24), draw(2, 6.5), run % 2, DepthTo::deepest)});
    const Parts parts = build_parts(e, {});
    const gp_Ax2 at(gp_Pnt(0, 0, -kUnderside), gp_Dir(0, 0, 1));
    const TopoDS_Shape ring =
        BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(at, kOutside, kUnderside - kTopLand).Shape(),
                        BRepPrimAPI_MakeCylinder(at, kOutside - kGroove, kUnderside - kTopLand).Shape());
    for (const MetalLeft& wall : crown_left(e, parts.crown)) {
      if (wall.state != State::measured) continue;
      const TopoDS_Compound here = faces_of_pocket(parts, wall.pocket == "a" ? 0 : 1);
      double reference = NAN;
      if (wall.to == To::ring_groove) reference = modelled(here, ring);
      if (wall.to == To::neighbour) reference = modelled(here, faces_of_pocket(parts, 1));
      if (std::isnan(reference)) continue;
      ++walls;
      EXPECT_LE(wall.value, reference + 1e-3) << run << ' ' << name_beyond(wall);
      if (wall.value < reference - 1e-3) ++missed;
    }
  }
  EXPECT_GE(walls, 12);
  EXPECT_LE(missed, 1);
}

}  // namespace
}  // namespace eyebrow
