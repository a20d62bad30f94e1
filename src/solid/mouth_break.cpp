#include "solid/mouth_break.hpp"

#include <TopExp.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <set>

#include <fmt/format.h>

#include "solid/checked_cut.hpp"
#include "solid/faults.hpp"
#include "solid/mouth_cutter.hpp"

namespace eyebrow {
namespace {

/// The groups of what the pocket's wall and corner share an edge with.
std::set<Group> neighbours(const NamedSolid& crown, int pocket) {
  TopTools_IndexedDataMapOfShapeListOfShape faces_of;
  TopExp::MapShapesAndAncestors(crown.solid, TopAbs_EDGE, TopAbs_FACE, faces_of);
  std::set<Group> groups;
  for (int i = 1; i <= faces_of.Extent(); ++i) {
    if (faces_of(i).Extent() != 2) continue;
    const NamedSurface* first = recognise(TopoDS::Face(faces_of(i).First()), crown.surfaces);
    const NamedSurface* last = recognise(TopoDS::Face(faces_of(i).Last()), crown.surfaces);
    if (first == nullptr || last == nullptr) continue;
    const auto own = [&](const Face& face) {
      return face.pocket == pocket && (face.group == Group::wall || face.group == Group::corner);
    };
    if (own(first->face)) groups.insert(last->face.group);
    if (own(last->face)) groups.insert(first->face.group);
  }
  return groups;
}

}  // namespace

void break_mouths(NamedSolid& crown, const Engine& engine, const Origins& origins, const CrownNumbers& numbers,
                  std::vector<Fault>& warnings) {
  std::vector<Fault> faults;
  for (const CrownTool& tool : numbers.tools) {
    if (!(tool.mouth_break > 0)) continue;
    const std::string key = tool.key + ".mouth_break";
    const auto blame = [&](const std::string& why) {
      faults.push_back(fault_at(origins, key, fmt::format("{}: its mouth edge cannot be broken: {}", tool.what, why)));
    };
    const std::set<Group> around = neighbours(crown, tool.pocket);
    if (engine.piston.round_dome && around.contains(Group::dome)) {
      blame("it lies on a round dome, and edges are broken on flat crowns and roofs only; leave mouth_break out");
      continue;
    }
    if (tool.tool.recess < 0) {
      blame("its floor stands up in the middle, like a dished valve face; leave mouth_break out");
      continue;
    }
    if (!around.contains(Group::flat) && !around.contains(Group::dome)) {
      blame("its wall meets neither the crown flat nor the roof; leave mouth_break out");
      continue;
    }
    for (const Group sharp : {Group::top_chamfer, Group::dish_floor, Group::dish_wall}) {
      if (!around.contains(sharp)) continue;
      warnings.push_back(
          fault_at(origins, key, fmt::format("{}: its edge with the {} is left sharp", tool.what, to_string(sharp))));
    }

    const MouthTop top = mouth_top(engine.piston, tool.tool, tool.mouth_break);
    std::vector<NamedSurface> surfaces = crown.surfaces;
    for (NamedSurface& surface : mouth_surfaces(tool, top)) surfaces.push_back(std::move(surface));
    const CutResult result = cut(
        crown.solid, crown.volume, [&](double turn) { return mouth_cutter(tool.tool, top, tool.mouth_break, turn); },
        surfaces);
    if (result.solid) {
      crown.solid = *result.solid;
      crown.volume = result.volume;
      crown.surfaces = std::move(surfaces);
    } else {
      blame(fmt::format("the modeller could not ({}); try another width, or leave mouth_break out", result.reason));
    }
  }
  if (!faults.empty()) throw InputError(std::move(faults));
}

}  // namespace eyebrow
