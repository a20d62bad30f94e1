// The mesh that the gap kernel works on: closed, outward, on the exact surface, within the bound it states.
#include <gtest/gtest.h>
#include <BRepAdaptor_Surface.hxx>
#include <BRepClass_FaceClassifier.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <GeomAPI_ProjectPointOnSurf.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/face_mesh.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"
#include "solid/surface_checks.hpp"

namespace eyebrow {
namespace {

struct Case {
  const char* name;
  Engine (*engine)();
};

Engine wedge_with_corners() {
  Engine e = test::wedge();
  for (Pocket& p : e.piston.pockets) p.corner_radius = 1.5;
  return e;
}

Engine domed() {
  Engine e = test::plain();
  e.piston.top_chamfer = 0.8;
  e.piston.round_dome = RoundDome{5, 60, DomeShape::sphere, 0};
  e.piston.pockets = {test::pocket("a", 5, 20, 8, 30, 30, 3, 1), test::pocket("b", -3, -20, 0, 0, 26, 2)};
  return e;
}

Engine cone_domed() {
  Engine e = test::plain();
  e.piston.round_dome = RoundDome{5, 60, DomeShape::cone, 0};
  e.piston.pockets = {test::pocket("a", 5, 22, 12, 30, 28, 3)};
  return e;
}

Engine dished() {
  Engine e = test::plain();
  e.piston.dish = Dish{50, 3, 2, 0, 0};
  e.piston.pockets = {test::pocket("a", 5, 20, 5, 0, 30, 5)};
  return e;
}

// The modeller's curves where these walls meet the dome are off by 0.02 mm: the mesh must not be.
Engine dome_over_the_whole_crown() {
  Engine e = test::plain();
  e.piston.round_dome = RoundDome{6, 80, DomeShape::sphere, 0};
  e.piston.pockets = {test::pocket("a", 10, 10, 12, 20, 30, 3, 1), test::pocket("b", -10, -14, 12, 200, 30, 3, 1)};
  return e;
}

Engine broken_mouth() {
  Engine e = test::wedge();
  for (Pocket& p : e.piston.pockets) p.mouth_break = 0.5;
  return e;
}

Engine face_shaped_floor() {
  Engine e = test::plain();
  e.piston.pockets = {test::pocket("a", 0, 10, 10, 0, 34, 6, 1)};
  e.piston.pockets[0].floor = FloorShape::valve_face;
  e.valves = {test::valve("a", Role::intake, 0, 30, 1.2, 0, 5, 10, 0, 5, 6)};
  e.valves[0].face = FaceShape::domed;
  e.valves[0].face_depth = 1.5;
  return e;
}

class CrownMesh : public testing::TestWithParam<Case> {};

// Watertight, outward, of the exact volume and area as far as its error allows.
TEST_P(CrownMesh, IsClosedAndOutward) {
  const Engine e = GetParam().engine();
  const Crown c = build_parts(e, {}).crown;
  EXPECT_LE(c.error, 0.0005);
  EXPECT_GT(c.error, 0);
  EXPECT_LT(c.triangles.size(), 150000u);
  EXPECT_EQ(test::open_edges(c), 0);
  EXPECT_NEAR(test::mesh_volume(c), c.volume, c.error * test::total_area(c));
  for (std::size_t f = 0; f < c.faces.size(); ++f) {
    double around = 0;  // an area's error is at most the chords' sag along its edges and second order inside
    for (const Edge& edge : c.edges) {
      for (std::size_t i = 1; i < edge.points.size(); ++i) around += norm(edge.points[i] - edge.points[i - 1]);
    }
    EXPECT_NEAR(test::mesh_area(c, static_cast<int>(f)), c.faces[f].area, 1e-4 * c.faces[f].area + c.error * around)
        << c.faces[f].name;
  }
}

TEST_P(CrownMesh, EachTriangleLooksOutOfTheMetal) {
  const Crown c = build_parts(GetParam().engine(), {}).crown;
  for (const Triangle& t : c.triangles) {
    const Face& face = c.faces[static_cast<std::size_t>(t.face)];
    const Vec3 a = test::corner(c, t, 0), normal = cross(test::corner(c, t, 1) - a, test::corner(c, t, 2) - a);
    if (norm(normal) < 1e-9) continue;  // needles have no direction to speak of
    if (face.kind == Surface::plane) {
      EXPECT_GT(dot(normal, face.frame.z), 0) << face.name;
    } else if (face.kind == Surface::cylinder) {
      // A pocket's wall looks at its axis, the crown's side away from it.
      const Vec3 from = a - face.frame.origin, out = from - dot(from, face.frame.z) * face.frame.z;
      EXPECT_GT((face.group == Group::side ? 1 : -1) * dot(normal, out), 0) << face.name;
    }
  }
}

// Against the modeller's own projection onto its own surfaces: none of our formulas.
TEST_P(CrownMesh, StaysWithinItsErrorOfTheExactSurface) {
  const Parts parts = build_parts(GetParam().engine(), {});
  const Crown& c = parts.crown;
  std::vector<std::vector<const Triangle*>> of_face(c.faces.size());
  for (const Triangle& t : c.triangles) of_face[static_cast<std::size_t>(t.face)].push_back(&t);

  std::size_t f = 0;
  double worst = 0;
  for (TopExp_Explorer each(parts.solids->crown.solid, TopAbs_FACE); each.More(); each.Next(), ++f) {
    const TopoDS_Face shape = TopoDS::Face(each.Current());
    const Handle(Geom_Surface) surface = BRep_Tool::Surface(shape);
    const bool exact = c.faces[f].kind != Surface::free_form;
    const std::size_t step = std::max<std::size_t>(1, of_face[f].size() / 150);
    for (std::size_t i = 0; i < of_face[f].size(); i += step) {
      const Vec3 p = test::corner(c, *of_face[f][i], 0), q = test::corner(c, *of_face[f][i], 1),
                 r = test::corner(c, *of_face[f][i], 2);
      // Corners lie on the surface (free-form: to the modeller's own tolerance), the rest within the error.
      EXPECT_LE(GeomAPI_ProjectPointOnSurf(to_pnt(p), surface).LowerDistance(), exact ? 1e-7 : 2e-5) << c.faces[f].name;
      for (const Vec3 s :
           {0.5 * (p + q), 0.5 * (q + r), 0.5 * (r + p), (1.0 / 3) * (p + q + r), 0.4 * (p + q) + 0.2 * r}) {
        const double off = GeomAPI_ProjectPointOnSurf(to_pnt(s), surface).LowerDistance();
        worst = std::max(worst, off);
        EXPECT_LE(off, c.error) << c.faces[f].name;
      }
    }
    // And the reverse: points of the exact, trimmed face from the face's own triangles.
    double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
    BRepTools::UVBounds(shape, u0, u1, v0, v1);
    for (int i = 1; i < 12; ++i) {
      for (int j = 1; j < 8; ++j) {
        const gp_Pnt2d uv(u0 + (u1 - u0) * i / 12, v0 + (v1 - v0) * j / 8);
        if (BRepClass_FaceClassifier(shape, uv, 1e-7).State() != TopAbs_IN) continue;
        const Vec3 p = to_vec(surface->Value(uv.X(), uv.Y()));
        double nearest = 1e9;
        for (const Triangle* t : of_face[f]) {
          nearest = std::min(nearest, test::distance_to_triangle(p, test::corner(c, *t, 0), test::corner(c, *t, 1),
                                                                 test::corner(c, *t, 2)));
        }
        EXPECT_LE(nearest, c.error) << c.faces[f].name;
      }
    }
  }
  EXPECT_EQ(f, c.faces.size());
  EXPECT_GT(worst, c.error / 20);  // the bound says something: the mesh really is that far off somewhere
}

TEST_P(CrownMesh, EdgeChainsRunAlongTriangles) {
  const Crown c = build_parts(GetParam().engine(), {}).crown;
  std::set<std::pair<std::array<double, 3>, std::array<double, 3>>> sides;
  const auto key = [](Vec3 p) { return std::array<double, 3>{p.x, p.y, p.z}; };
  for (const Triangle& t : c.triangles) {
    for (int i = 0; i < 3; ++i) sides.emplace(key(test::corner(c, t, i)), key(test::corner(c, t, (i + 1) % 3)));
  }
  for (const Edge& edge : c.edges) {
    if (edge.faces[0] == edge.faces[1]) continue;  // a seam is no edge of the body
    for (std::size_t i = 1; i < edge.points.size(); ++i) {
      EXPECT_TRUE(sides.contains({key(edge.points[i - 1]), key(edge.points[i])}))
          << c.faces[static_cast<std::size_t>(edge.faces[0])].name;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Each, CrownMesh,
                         testing::Values(Case{"wedge", test::wedge}, Case{"wedge_with_corners", wedge_with_corners},
                                         Case{"pent_roof", test::pent_roof}, Case{"domed", domed},
                                         Case{"cone_domed", cone_domed}, Case{"dished", dished},
                                         Case{"dome_over_the_whole_crown", dome_over_the_whole_crown},
                                         Case{"broken_mouth", broken_mouth},
                                         Case{"face_shaped_floor", face_shaped_floor}),
                         [](const auto& each) { return std::string(each.param.name); });

// Closed form: of an even triangle of side s on curvature k, the middle of an edge is off by k s^2 / 8 and the centre,
// furthest, by k s^2 / 6; of a triangle bent one way only, the longest edge's middle is furthest.
TEST(MeshBound, FromTheMiddlesOfTheEdges) {
  EXPECT_NEAR(bound_from_middles(1.0 / 8, 1.0 / 8, 1.0 / 8), 1.0 / 6, 1e-15);
  EXPECT_NEAR(bound_from_middles(1.0 / 8, 1.0 / 8, 2.0 / 8), 2.0 / 8, 1e-15);  // right-angled
  EXPECT_NEAR(bound_from_middles(0, 1, 1), 1, 1e-15);
}

TEST(CrownMeshDeflection, IsKeptAtAnyValue) {
  for (const double deflection : {0.05, 0.005, 0.002}) {
    const Crown c = build_parts(dished(), {}, deflection).crown;
    EXPECT_LE(c.error, deflection);
    EXPECT_EQ(test::open_edges(c), 0);
  }
  EXPECT_THROW(build_parts(dished(), {}, 0), MachineError);
}

TEST(CrownMeshDeflection, SameEngineSameMesh) {
  const Crown a = build_parts(test::pent_roof(), {}).crown, b = build_parts(test::pent_roof(), {}).crown;
  ASSERT_EQ(a.points.size(), b.points.size());
  ASSERT_EQ(a.triangles.size(), b.triangles.size());
  for (std::size_t i = 0; i < a.points.size(); ++i) EXPECT_EQ(norm(a.points[i] - b.points[i]), 0);
  for (std::size_t i = 0; i < a.triangles.size(); ++i) EXPECT_EQ(a.triangles[i].vertex, b.triangles[i].vertex);
}

}  // namespace
}  // namespace eyebrow
