#include "solid/step_mend.hpp"

#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepLib.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_DataMapOfShapeInteger.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <algorithm>

#include "solid/occt.hpp"

namespace eyebrow {
namespace {

/// What is offered, mm. The last is what the engine file may ask for.
constexpr double kOffered[] = {0.001, 0.002, 0.005, 0.01};

/// How far an edge or a corner is from the faces that it belongs to, at most.
double loosest(const TopoDS_Shape& shape) {
  double most = 0;
  TopTools_IndexedMapOfShape edges, corners;
  TopExp::MapShapes(shape, TopAbs_EDGE, edges);
  TopExp::MapShapes(shape, TopAbs_VERTEX, corners);
  for (int i = 1; i <= edges.Extent(); ++i) most = std::max(most, BRep_Tool::Tolerance(TopoDS::Edge(edges(i))));
  for (int i = 1; i <= corners.Extent(); ++i) most = std::max(most, BRep_Tool::Tolerance(TopoDS::Vertex(corners(i))));
  return most;
}

/// The only shell of what was sewn; null where there are several, or faces beside it.
TopoDS_Shell only_shell(const TopoDS_Shape& sewn, int faces) {
  TopoDS_Shell shell;
  for (TopExp_Explorer each(sewn, TopAbs_SHELL); each.More(); each.Next()) {
    if (!shell.IsNull()) return {};
    shell = TopoDS::Shell(each.Current());
  }
  return !shell.IsNull() && count_faces(shell) == faces ? shell : TopoDS_Shell();
}

}  // namespace

std::optional<StepSolid> mended(const StepSolid& read, double within) {
  BRepBuilderAPI_Sewing sewing(within);
  std::vector<TopoDS_Shape> faces;
  for (TopExp_Explorer each(read.solid, TopAbs_FACE); each.More(); each.Next()) {
    faces.push_back(each.Current());
    sewing.Add(each.Current());
  }
  sewing.Perform();
  if (sewing.NbFreeEdges() > 0 || sewing.NbMultipleEdges() > 0) return {};
  const TopoDS_Shell shell = only_shell(sewing.SewedShape(), static_cast<int>(faces.size()));
  if (shell.IsNull()) return {};
  TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(shell).Solid();
  if (!BRepLib::OrientClosedSolid(solid) || !BRepCheck_Analyzer(solid).IsValid() || !(volume_of(solid) > 0)) return {};

  StepSolid result;
  result.moved = loosest(solid);
  TopTools_DataMapOfShapeInteger was;
  for (std::size_t i = 0; i < faces.size(); ++i) {
    const TopoDS_Shape now = sewing.IsModified(faces[i]) ? sewing.Modified(faces[i]) : faces[i];
    was.Bind(now.Oriented(TopAbs_FORWARD), static_cast<int>(i));
  }
  for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next()) {
    const TopoDS_Shape face = each.Current().Oriented(TopAbs_FORWARD);
    const bool known = was.IsBound(face) && !read.face_names.empty();
    result.face_names.push_back(known ? read.face_names[static_cast<std::size_t>(was.Find(face))] : "");
  }
  result.solid = solid;
  return result;
}

std::optional<double> mends_within(const StepSolid& read) {
  for (const double within : kOffered)
    if (mended(read, within)) return within;
  return {};
}

}  // namespace eyebrow
