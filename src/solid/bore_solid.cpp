#include "solid/bore_solid.hpp"

#include <Standard_Failure.hxx>
#include <algorithm>

#include <fmt/format.h>

#include "solid/checked_cut.hpp"
#include "solid/faults.hpp"
#include "solid/occt.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

double outer_radius(const Engine& engine) {
  return std::max(engine.cylinder.bore, engine.gasket.bore) / 2 + kBlockWall;
}

Frame facing_down(double z) {
  return {{0, 0, z}, {1, 0, 0}, {0, -1, 0}, {0, 0, -1}};
}

Frame facing_up(double z) {
  return {{0, 0, z}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
}

/// A ring about the bore axis.
NamedSolid ring(double inner, double outer, double bottom, double top) {
  NamedSolid made;
  made.solid = revolve({line_piece({inner, bottom}, {inner, top}), line_piece({inner, top}, {outer, top}),
                        line_piece({outer, top}, {outer, bottom})},
                       Frame{});
  return made;
}

TopoDS_Shape notch_tool(const BoreNotch& notch, double turn) {
  const double radius = notch.diameter / 2, top = notch.depth + kBeyond;
  return revolve({line_piece({0, 0}, {radius, 0}), line_piece({radius, 0}, {radius, top}), line_piece({radius, top}, {0, top})},
                 tool_frame({notch.x, notch.y, -notch.depth}, {0, 0, 1}, turn));
}

void cut_notch(NamedSolid& block, const BoreNotch& notch, const Origins& origins) {
  const std::string name = "bore notch " + notch.name;
  const Vec3 floor{notch.x, notch.y, -notch.depth};
  Frame axis = facing_up(0);
  axis.origin = floor;
  block.surfaces.push_back({named(Group::bore, name + " floor", Surface::plane, axis), {}});
  block.surfaces.push_back({named(Group::bore, name, Surface::cylinder, axis, notch.diameter / 2), {}});
  const CutResult result = cut(block.solid, [&](double turn) { return notch_tool(notch, turn); }, block.surfaces);
  if (result.solid) {
    block.solid = *result.solid;
    return;
  }
  if (result.missed)
    throw InputError({fault_at(origins, "cylinder.notch." + notch.name, name + ": it cuts nothing from the bore")});
  throw MachineError(fmt::format("{}: the modeller could not cut it ({}); a small change of its place usually helps",
                                 name, result.reason));
}

}  // namespace

NamedSolid make_block(const Engine& engine, const Origins& origins) {
  try {
    const double inner = engine.cylinder.bore / 2, outer = outer_radius(engine);
    double deepest = engine.cylinder.stroke + std::max(0.0, engine.cylinder.deck_clearance);
    for (const BoreNotch& notch : engine.cylinder.notches) deepest = std::max(deepest, notch.depth);
    const double bottom = -deepest - kMetalBelow;
    NamedSolid block = ring(inner, outer, bottom, 0);
    block.surfaces = {{named(Group::bore, "bore wall", Surface::cylinder, Frame{}, inner), {}},
                      {named(Group::bore, "deck face", Surface::plane, facing_up(0)), {}},
                      {named(Group::side, "block side", Surface::cylinder, Frame{}, outer), {}},
                      {named(Group::underside, "block end", Surface::plane, facing_down(bottom)), {}}};
    for (const BoreNotch& notch : engine.cylinder.notches) cut_notch(block, notch, origins);
    block.volume = volume_of(block.solid);
    return block;
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the bore: the modeller failed: {}", failure.GetMessageString()));
  }
}

NamedSolid make_gasket(const Engine& engine) {
  try {
    const double inner = engine.gasket.bore / 2, outer = outer_radius(engine), top = engine.gasket.thickness;
    NamedSolid gasket = ring(inner, outer, 0, top);
    gasket.surfaces = {{named(Group::gasket, "gasket edge", Surface::cylinder, Frame{}, inner), {}},
                       {named(Group::gasket, "gasket top", Surface::plane, facing_up(top)), {}},
                       {named(Group::gasket, "gasket underside", Surface::plane, facing_down(0)), {}},
                       {named(Group::side, "gasket side", Surface::cylinder, Frame{}, outer), {}}};
    gasket.volume = volume_of(gasket.solid);
    return gasket;
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the gasket: the modeller failed: {}", failure.GetMessageString()));
  }
}

}  // namespace eyebrow
