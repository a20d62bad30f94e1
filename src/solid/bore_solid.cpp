#include "solid/bore_solid.hpp"

#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "solid/checked_cut.hpp"
#include "solid/faults.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

/// The sizes that block and gasket are made with.
struct Sizes {
  double bore, gasket_bore, thickness, outer, bottom;
};

Sizes sizes_of(const Engine& engine) {
  Sizes sizes{};
  sizes.bore = engine.cylinder.bore / 2;
  sizes.gasket_bore = engine.gasket.bore / 2;
  sizes.thickness = engine.gasket.thickness;
  sizes.outer = std::max(sizes.bore, sizes.gasket_bore);
  double deepest = 0;
  for (const BoreNotch& notch : engine.cylinder.notches) {
    sizes.outer = std::max(sizes.outer, std::hypot(notch.x, notch.y) + notch.diameter / 2);
    deepest = std::max(deepest, notch.depth);
  }
  sizes.outer += kBlockWall;
  sizes.bottom =
      -std::max(engine.cylinder.stroke + std::max(0.0, engine.cylinder.deck_clearance), deepest) - kBlockWall;
  return sizes;
}

Frame frame_at(double x, double y, double z, bool up = true) {
  Frame frame;
  frame.origin = {x, y, z};
  if (!up) frame.y = {0, -1, 0}, frame.z = {0, 0, -1};
  return frame;
}

/// A ring with a square section about the bore axis.
TopoDS_Shape ring(double inner, double outer, double low, double high, double seam) {
  return revolve({line_piece({inner, low}, {outer, low}), line_piece({outer, low}, {outer, high}),
                  line_piece({outer, high}, {inner, high})},
                 tool_frame({0, 0, 0}, {0, 0, 1}, seam));
}

std::vector<NamedSurface> surfaces_of_bore(const Engine& engine, const Sizes& sizes) {
  std::vector<NamedSurface> surfaces;
  const auto above = [](double z) { return [z](Vec3 p) { return p.z > z; }; };
  const auto below = [](double z) { return [z](Vec3 p) { return p.z < z; }; };
  const double middle = sizes.thickness / 2;
  surfaces.push_back({named(Group::bore, "bore wall", Surface::cylinder, frame_at(0, 0, 0), sizes.bore), below(0)});
  surfaces.push_back({named(Group::bore, "deck face", Surface::plane, frame_at(0, 0, 0)), {}});
  surfaces.push_back({named(Group::gasket, "gasket underside", Surface::plane, frame_at(0, 0, 0, false)), {}});
  surfaces.push_back(
      {named(Group::gasket, "gasket edge", Surface::cylinder, frame_at(0, 0, 0), sizes.gasket_bore), above(0)});
  surfaces.push_back({named(Group::gasket, "gasket top", Surface::plane, frame_at(0, 0, sizes.thickness)), {}});
  surfaces.push_back(
      {named(Group::gasket, "gasket outside", Surface::cylinder, frame_at(0, 0, 0), sizes.outer), above(middle)});
  surfaces.push_back({named(Group::bore, "block outside", Surface::cylinder, frame_at(0, 0, 0), sizes.outer), {}});
  surfaces.push_back({named(Group::bore, "block bottom", Surface::plane, frame_at(0, 0, sizes.bottom, false)), {}});
  for (const BoreNotch& notch : engine.cylinder.notches) {
    const std::string what = "bore notch " + notch.name;
    surfaces.push_back({named(Group::bore, what, Surface::cylinder, frame_at(notch.x, notch.y, 0), notch.diameter / 2),
                        [notch](Vec3 p) { return p.z > -notch.depth && p.z < 0; }});
    surfaces.push_back({named(Group::bore, what + " floor", Surface::plane, frame_at(notch.x, notch.y, -notch.depth)),
                        [notch](Vec3 p) { return std::hypot(p.x - notch.x, p.y - notch.y) < notch.diameter / 2; }});
  }
  return surfaces;
}

TopoDS_Shape notch_tool(const BoreNotch& notch, double turn) {
  const Frame frame = tool_frame({notch.x, notch.y, -notch.depth}, {0, 0, 1}, turn);
  return BRepPrimAPI_MakeCylinder(to_ax2(frame), notch.diameter / 2, notch.depth + kBeyond).Shape();
}

void cut_notches(BoreSolids& bore, const Engine& engine, const Origins& origins) {
  double volume = volume_of(bore.block);
  for (const BoreNotch& notch : engine.cylinder.notches) {
    const CutResult result = cut(
        bore.block, volume, [&](double turn) { return notch_tool(notch, turn); }, bore.around.surfaces);
    if (result.solid) {
      bore.block = *result.solid;
      volume = result.volume;
    } else if (result.missed) {
      throw InputError({fault_at(origins, "cylinder.notch." + notch.name,
                                 fmt::format("notch {}: it cuts nothing from the block", notch.name))});
    } else {
      throw MachineError(fmt::format("notch {}: the modeller could not cut it ({})", notch.name, result.reason));
    }
  }
}

/// Block and gasket as one, their common part of the deck face gone. The outside is cut in two at the deck: it stays
/// so.
void join(BoreSolids& bore) {
  const double expected = volume_of(bore.block) + volume_of(bore.gasket);
  BRepAlgoAPI_Fuse fuse(bore.block, bore.gasket);
  const auto solid = only_solid(fuse.Shape());
  const double volume = solid ? volume_of(*solid) : 0;
  if (!solid || !BRepCheck_Analyzer(*solid).IsValid() || std::fabs(volume - expected) > kBooleanVolume * expected) {
    throw MachineError("the modeller could not join block and gasket");
  }
  bore.around.solid = *solid;
  bore.around.volume = volume;
}

}  // namespace

void check_bore(const Engine& engine, const Origins& origins, std::vector<Fault>& faults) {
  const auto length = [&](double mm) { return length_text(mm, engine.units); };
  const auto above_zero = [&](const char* key, const char* what, double value) {
    if (value > 0 && std::isfinite(value)) return;
    faults.push_back(fault_at(origins, key, fmt::format("{} must be above 0, not {}", what, length(value))));
  };
  above_zero("cylinder.bore", "the bore", engine.cylinder.bore);
  above_zero("cylinder.stroke", "the stroke", engine.cylinder.stroke);
  above_zero("gasket.bore", "the gasket's bore", engine.gasket.bore);
  above_zero("gasket.thickness", "the gasket's thickness", engine.gasket.thickness);
  for (const BoreNotch& notch : engine.cylinder.notches) {
    const std::string key = "cylinder.notch." + notch.name;
    above_zero((key + ".diameter").c_str(), "a notch's diameter", notch.diameter);
    above_zero((key + ".depth").c_str(), "a notch's depth", notch.depth);
    const double from_axis = std::hypot(notch.x, notch.y), bore = engine.cylinder.bore / 2;
    if (from_axis - notch.diameter / 2 >= bore || from_axis + notch.diameter / 2 <= bore) {
      faults.push_back(
          fault_at(origins, key,
                   fmt::format("notch {}: with its axis {} from the bore axis and a diameter of {} it does "
                               "not cut the bore wall at {}",
                               notch.name, length(from_axis), length(notch.diameter), length(bore))));
    }
  }
}

BoreSolids make_bore(const Engine& engine, const Origins& origins) {
  try {
    const Sizes sizes = sizes_of(engine);
    BoreSolids bore;
    bore.around.surfaces = surfaces_of_bore(engine, sizes);
    bore.block = ring(sizes.bore, sizes.outer, sizes.bottom, 0, 0.4);
    // Its seam elsewhere than the block's, so that no edge of one ends on an edge of the other.
    bore.gasket = ring(sizes.gasket_bore, sizes.outer, 0, sizes.thickness, 2.1);
    cut_notches(bore, engine, origins);
    join(bore);
    return bore;
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the bore: the modeller failed: {}", failure.GetMessageString()));
  }
}

}  // namespace eyebrow
