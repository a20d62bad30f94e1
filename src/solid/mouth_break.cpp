#include "solid/mouth_break.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <BRepFilletAPI_MakeChamfer.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "solid/checked_cut.hpp"
#include "solid/faults.hpp"

namespace eyebrow {
namespace {

struct MouthEdge {
  TopoDS_Edge edge;
  const CrownTool* tool;
};

bool is_mouth_of(const Face& wall, const Face& other, int pocket) {
  if (wall.group != Group::wall || wall.pocket != pocket) return false;
  switch (other.group) {
    case Group::flat:
    case Group::dome:
    case Group::dish_floor:
    case Group::dish_corner:
    case Group::dish_wall:
    case Group::top_chamfer:
      return true;
    default:
      return false;
  }
}

std::vector<MouthEdge> mouth_edges(const NamedSolid& crown, const std::vector<const CrownTool*>& tools) {
  TopTools_IndexedDataMapOfShapeListOfShape faces_of;
  TopExp::MapShapesAndAncestors(crown.solid, TopAbs_EDGE, TopAbs_FACE, faces_of);
  std::vector<MouthEdge> edges;
  for (int i = 1; i <= faces_of.Extent(); ++i) {
    if (faces_of(i).Extent() != 2) continue;
    const NamedSurface* first = recognise(TopoDS::Face(faces_of(i).First()), crown.surfaces);
    const NamedSurface* last = recognise(TopoDS::Face(faces_of(i).Last()), crown.surfaces);
    if (first == nullptr || last == nullptr) continue;
    for (const CrownTool* tool : tools) {
      if (is_mouth_of(first->face, last->face, tool->pocket) || is_mouth_of(last->face, first->face, tool->pocket)) {
        edges.push_back({TopoDS::Edge(faces_of.FindKey(i)), tool});
      }
    }
  }
  return edges;
}

double length_of(const TopoDS_Edge& edge) {
  GProp_GProps properties;
  BRepGProp::LinearProperties(edge, properties);
  return properties.Mass();
}

bool all_known(const NamedSolid& crown) {
  for (TopExp_Explorer each(crown.solid, TopAbs_FACE); each.More(); each.Next()) {
    const TopoDS_Face face = TopoDS::Face(each.Current());
    const bool mouth =
        std::any_of(crown.mouths.begin(), crown.mouths.end(), [&](const MouthFace& m) { return m.face.IsSame(face); });
    if (!mouth && recognise(face, crown.surfaces) == nullptr) return false;
  }
  return true;
}

/// The crown with these pockets' mouths broken; empty when the modeller cannot.
std::optional<NamedSolid> broken(const NamedSolid& crown, const std::vector<const CrownTool*>& tools) {
  const std::vector<MouthEdge> edges = mouth_edges(crown, tools);
  if (edges.empty()) return std::nullopt;
  try {
    BRepFilletAPI_MakeChamfer chamfer(crown.solid);
    double most = 0;  // a chamfer of width b takes at most b x b x length: a triangle with two sides of b
    for (const MouthEdge& each : edges) {
      chamfer.Add(each.tool->mouth_break, each.edge);
      most += each.tool->mouth_break * each.tool->mouth_break * length_of(each.edge);
    }
    chamfer.Build();
    if (!chamfer.IsDone()) return std::nullopt;
    const auto solid = only_solid(chamfer.Shape());
    if (!solid || !BRepCheck_Analyzer(*solid).IsValid()) return std::nullopt;
    const double taken = volume_of(crown.solid) - volume_of(*solid);
    if (!(taken > 0) || taken > most) return std::nullopt;

    NamedSolid result = crown;
    result.solid = *solid;
    for (const MouthEdge& each : edges) {
      const auto add_made_from = [&](const TopoDS_Shape& part) {
        for (const TopoDS_Shape& face : chamfer.Generated(part)) {
          result.mouths.push_back({face, each.tool->pocket, each.tool->what});
        }
      };
      add_made_from(each.edge);
      add_made_from(TopExp::FirstVertex(each.edge));
      add_made_from(TopExp::LastVertex(each.edge));
    }
    return all_known(result) ? std::optional(std::move(result)) : std::nullopt;
  } catch (const Standard_Failure&) {
    return std::nullopt;
  }
}

}  // namespace

void break_mouths(NamedSolid& crown, const Origins& origins, const CrownNumbers& numbers) {
  std::vector<const CrownTool*> tools;
  for (const CrownTool& tool : numbers.tools) {
    if (tool.mouth_break > 0) tools.push_back(&tool);
  }
  if (tools.empty()) return;
  if (auto result = broken(crown, tools)) {
    crown = std::move(*result);
    return;
  }
  // Each by itself, to name those that fail; all of them when it is only together that they do.
  std::vector<Fault> faults;
  const auto blame = [&](const CrownTool& tool) {
    faults.push_back(fault_at(origins, tool.key + ".mouth_break",
                              fmt::format("{}: the modeller cannot break its mouth edge by that much; try a smaller "
                                          "mouth_break, or leave it out",
                                          tool.what)));
  };
  for (const CrownTool* tool : tools) {
    if (!broken(crown, {tool})) blame(*tool);
  }
  if (faults.empty()) {
    for (const CrownTool* tool : tools) blame(*tool);
  }
  throw InputError(std::move(faults));
}

}  // namespace eyebrow
