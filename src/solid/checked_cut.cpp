#include "solid/checked_cut.hpp"

#include <BOPAlgo_PaveFiller.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <cmath>

#include <fmt/format.h>

#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

// Where the tool's seam is put, from its high side: there first, as it then meets the fewest edges, then elsewhere at
// angles that share no symmetry with one another.
constexpr double kTurns[] = {0, 50 * kDegree, -70 * kDegree, 127 * kDegree, -151 * kDegree, 180 * kDegree};

/// Whether more than two faces meet at some edge: metal of no thickness.
bool touches_itself(const TopoDS_Shape& solid) {
  TopTools_IndexedDataMapOfShapeListOfShape faces_of;
  TopExp::MapShapesAndUniqueAncestors(solid, TopAbs_EDGE, TopAbs_FACE, faces_of);
  for (int i = 1; i <= faces_of.Extent(); ++i) {
    if (faces_of(i).Extent() > 2) return true;
  }
  return false;
}

/// What is wrong with a result, whose volume is told; empty when nothing is.
std::string wrong_with(const std::optional<TopoDS_Shape>& solid, double& volume, double before, double common,
                       int faces_before, int faces_of_tool, const std::vector<NamedSurface>& surfaces) {
  if (!solid) return "the rest is not one piece";
  if (!BRepCheck_Analyzer(*solid).IsValid()) return "the modeller calls its own result invalid";
  volume = volume_of(*solid);
  const double off = volume - (before - common);
  if (std::fabs(off) > kBooleanVolume * before) return fmt::format("the volume is off by {:.3g} mm3", off);
  // A tool can split each face it crosses in a few; it cannot leave many times what was there.
  const int faces = count_faces(*solid);
  if (faces < 3 || faces > 4 * (faces_before + faces_of_tool)) return fmt::format("{} faces came out", faces);
  for (TopExp_Explorer each(*solid, TopAbs_FACE); each.More(); each.Next()) {
    if (recognise(TopoDS::Face(each.Current()), surfaces) == nullptr) return "a face came out that nothing asked for";
  }
  return {};
}

}  // namespace

std::optional<TopoDS_Shape> only_solid(const TopoDS_Shape& shape) {
  std::optional<TopoDS_Shape> solid;
  for (TopExp_Explorer each(shape, TopAbs_SOLID); each.More(); each.Next()) {
    if (solid) return std::nullopt;
    solid = each.Current();
  }
  return solid;
}

CutResult cut(const TopoDS_Shape& body, double before, const std::function<TopoDS_Shape(double turn)>& tool_at,
              const std::vector<NamedSurface>& surfaces) {
  CutResult result;
  const int faces_before = count_faces(body);
  for (const double turn : kTurns) {
    try {
      const TopoDS_Shape tool = tool_at(turn);
      BOPAlgo_PaveFiller crossings;  // body and tool are intersected once, for both
      TopTools_ListOfShape both;
      both.Append(body);
      both.Append(tool);
      crossings.SetArguments(both);
      crossings.Perform();
      BRepAlgoAPI_Common common(body, tool, crossings);
      BRepAlgoAPI_Cut rest(body, tool, crossings);
      if (!common.IsDone() || !rest.IsDone()) {
        result.reason = "the modeller gave up";
        continue;
      }
      const double taken = volume_of(common.Shape());
      if (taken < kLeastCut) {
        result.missed = true;
        result.reason = "nothing was cut";
        continue;
      }
      result.missed = false;
      const auto solid = only_solid(rest.Shape());
      result.reason = wrong_with(solid, result.volume, before, taken, faces_before, count_faces(tool), surfaces);
      if (!result.reason.empty()) continue;
      if (touches_itself(*solid)) {
        result.touches = true;
        result.reason = "walls touch along a line";
        return result;
      }
      result.solid = solid;
      return result;
    } catch (const Standard_Failure& failure) {
      result.reason = fmt::format("the modeller failed: {}", failure.GetMessageString());
    }
  }
  return result;
}

}  // namespace eyebrow
