#include "eyebrow/shown_solids.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <array>
#include <cmath>
#include <gp_Trsf.hxx>
#include <map>

#include <fmt/format.h>

#include "solid/mesh.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"

namespace eyebrow {
namespace {

constexpr double kShownDeflection = 0.01, kShownAngle = 0.1;  // to be looked at, not measured
constexpr double kSamePoint = 1e-6;

/// Points of several faces, each place once.
class Welder {
 public:
  explicit Welder(std::vector<Vec3>& points) : points_(points) {}
  int number(Vec3 p) {
    const std::array key{std::lround(p.x / kSamePoint), std::lround(p.y / kSamePoint), std::lround(p.z / kSamePoint)};
    const auto [at, is_new] = known_.try_emplace(key, static_cast<int>(points_.size()));
    if (is_new) points_.push_back(p);
    return at->second;
  }

 private:
  std::vector<Vec3>& points_;
  std::map<std::array<long, 3>, int> known_;
};

Vec3 placed_node(const Poly_Triangulation& mesh, const TopLoc_Location& place, int node) {
  return to_vec(mesh.Node(node).Transformed(place.Transformation()));
}

void add_face(const TopoDS_Face& face, int number, Welder& welder, Crown& out) {
  TopLoc_Location place;
  const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(face, place);
  if (mesh.IsNull()) return;
  for (int i = 1; i <= mesh->NbTriangles(); ++i) {
    int n[3];
    mesh->Triangle(i).Get(n[0], n[1], n[2]);
    if (face.Orientation() == TopAbs_REVERSED) std::swap(n[1], n[2]);
    Triangle triangle{{}, number};
    for (std::size_t k = 0; k < 3; ++k) triangle.vertex[k] = welder.number(placed_node(*mesh, place, n[k]));
    const auto [a, b, c] = triangle.vertex;
    if (a != b && b != c && c != a) out.triangles.push_back(triangle);
  }
}

void add_edges(const TopoDS_Shape& shape, const TopTools_IndexedMapOfShape& faces, Crown& out) {
  TopTools_IndexedDataMapOfShapeListOfShape around;
  TopExp::MapShapesAndAncestors(shape, TopAbs_EDGE, TopAbs_FACE, around);
  for (int i = 1; i <= around.Extent(); ++i) {
    const TopTools_ListOfShape& beside = around(i);
    const TopoDS_Edge& edge = TopoDS::Edge(around.FindKey(i));
    if (beside.Extent() < 2 || BRep_Tool::Degenerated(edge)) continue;
    TopLoc_Location place;
    const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(TopoDS::Face(beside.First()), place);
    const Handle(Poly_PolygonOnTriangulation) chain = BRep_Tool::PolygonOnTriangulation(edge, mesh, place);
    if (mesh.IsNull() || chain.IsNull()) continue;
    Edge made{{faces.FindIndex(beside.First()) - 1, faces.FindIndex(beside.Last()) - 1}, {}};
    for (int k = 1; k <= chain->NbNodes(); ++k) made.points.push_back(placed_node(*mesh, place, chain->Node(k)));
    out.edges.push_back(std::move(made));
  }
}

Crown meshed(const TopoDS_Shape& shape) {
  Crown out;
  BRepMesh_IncrementalMesh(shape, kShownDeflection, false, kShownAngle);
  out.error = kShownDeflection;
  out.volume = volume_of(shape);
  TopTools_IndexedMapOfShape faces;
  TopExp::MapShapes(shape, TopAbs_FACE, faces);
  Welder welder(out.points);
  for (int i = 1; i <= faces.Extent(); ++i) {
    const TopoDS_Face& face = TopoDS::Face(faces(i));
    out.faces.push_back(read_surface(face));
    add_face(face, i - 1, welder, out);
  }
  add_edges(shape, faces, out);
  return out;
}

}  // namespace

Crown crown_to_show(const Parts& parts, double deflection) {
  if (!parts.solids || parts.crown.by_mesh) return parts.crown;  // a finer mesh of faces that do not meet is none
  try {
    Crown crown = mesh_solid(parts.solids->crown.solid, parts.solids->crown_faces, deflection, "crown");
    crown.volume = parts.crown.volume;
    return crown;
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the crown: the modeller failed: {}", failure.GetMessageString()));
  }
}

Crown overlap_solid(const Engine& engine, const Parts& parts, const Placing& placing, int valve) {
  if (!parts.solids) return {};
  const std::size_t number = static_cast<std::size_t>(valve);
  const Vec3 up = up_axis(engine, engine.valves.at(number));
  const Vec3 rim_centre =
      closed_place(engine, engine.valves.at(number)) - placing.lifts.at(number) * up - Vec3{0, 0, placing.height};
  try {
    gp_Trsf move;
    move.SetTransformation(gp_Ax3(to_ax2(frame_about(rim_centre, up))), gp_Ax3(gp::XOY()));
    BRepAlgoAPI_Common common(parts.solids->crown.solid,
                              BRepBuilderAPI_Transform(parts.solids->valves.at(number), move, true).Shape());
    return common.IsDone() ? meshed(common.Shape()) : Crown{};
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the overlap: the modeller failed: {}", failure.GetMessageString()));
  }
}

}  // namespace eyebrow
