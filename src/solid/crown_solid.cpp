#include "solid/crown_solid.hpp"

#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <future>
#include <set>

#include <fmt/format.h>

#include "solid/checked_cut.hpp"
#include "solid/faults.hpp"
#include "solid/mouth_break.hpp"
#include "solid/roof_tool.hpp"
#include "solid/tolerances.hpp"
#include "solid/valve_outline.hpp"
#include "solid/void_volume.hpp"

namespace eyebrow {
namespace {

constexpr Frame kUprightFrame{};

Frame at_height(double z, bool up = true) {
  Frame frame;
  frame.origin = {0, 0, z};
  if (!up) frame.y = {0, -1, 0}, frame.z = {0, 0, -1};
  return frame;
}

/// The azimuth furthest from every pocket: there the body's seam meets the fewest edges.
double quiet_azimuth(const Piston& piston) {
  double best = -1, best_azimuth = 0;
  for (int i = 0; i < 24; ++i) {
    const double azimuth = (i + 0.37) * 2 * kPi / 24;  // off the axes of symmetry, where roofs have their corners
    double nearest = 2;
    for (const Pocket& pocket : piston.pockets) {
      nearest = std::min(nearest, 1 - std::cos(azimuth - std::atan2(pocket.y, pocket.x)));
    }
    if (nearest > best + 1e-9) best = nearest, best_azimuth = azimuth;
  }
  return best_azimuth;
}

/// Outline of the turned body: side, chamfer, flat and round dome; of a tall blank when a roof is to be cut from it.
std::vector<ProfileElement> body_outline(const Piston& piston, const CrownNumbers& numbers) {
  const double radius = piston.crown_diameter / 2, chamfer = piston.top_chamfer;
  std::vector<ProfileElement> outline;
  Point2 at{0, numbers.bottom};
  const auto go = [&](Point2 to) {
    if (std::hypot(to.r - at.r, to.w - at.w) > kLeastPiece) outline.push_back(line_piece(at, to)), at = to;
  };
  go({radius, numbers.bottom});
  go({radius, -chamfer});
  if (piston.roof_dome) {
    const double top = numbers.top + kBeyond;
    go(chamfer > 0 ? Point2{radius - chamfer - top, top} : Point2{radius, top});
    go({0, top});
    return outline;
  }
  go({radius - chamfer, 0});
  if (piston.round_dome) {
    const RoundDome& dome = *piston.round_dome;
    go({dome.base_diameter / 2, 0});
    if (dome.shape == DomeShape::sphere) {
      const FaceSphere ball = face_sphere(FaceShape::dished, dome.height, at.r);
      outline.push_back(arc_piece(at, {0, dome.height}, {0, ball.centre}, ball.radius));
      return outline;
    }
    go({dome.top_diameter / 2, dome.height});
    go({0, dome.height});
    return outline;
  }
  go({0, 0});
  return outline;
}

std::vector<NamedSurface> body_surfaces(const Piston& piston, const CrownNumbers& numbers) {
  const double radius = piston.crown_diameter / 2;
  std::vector<NamedSurface> surfaces;
  surfaces.push_back({named(Group::flat, "crown flat", Surface::plane, kUprightFrame), {}});
  surfaces.push_back({named(Group::side, "side", Surface::cylinder, kUprightFrame, radius), {}});
  surfaces.push_back({named(Group::underside, "underside", Surface::plane, at_height(numbers.bottom, false)), {}});
  if (piston.top_chamfer > 0) {
    surfaces.push_back({named(Group::top_chamfer, "top chamfer", Surface::cone, at_height(0, false),
                              radius - piston.top_chamfer, kPi / 4),
                        {}});
  }
  if (piston.round_dome) {
    const RoundDome& dome = *piston.round_dome;
    const double base = dome.base_diameter / 2, top = dome.top_diameter / 2;
    if (dome.shape == DomeShape::sphere) {
      const FaceSphere ball = face_sphere(FaceShape::dished, dome.height, base);
      surfaces.push_back({named(Group::dome, "dome", Surface::sphere, at_height(ball.centre), ball.radius), {}});
    } else {
      surfaces.push_back(
          {named(Group::dome, "dome", Surface::cone, at_height(0, false), base, std::atan2(base - top, dome.height)),
           {}});
      surfaces.push_back({named(Group::dome, "dome plateau", Surface::plane, at_height(dome.height)), {}});
    }
  }
  if (piston.roof_dome) {
    for (NamedSurface& surface : roof_surfaces(*piston.roof_dome)) surfaces.push_back(std::move(surface));
  }
  return surfaces;
}

TopoDS_Shape tool_solid(const Tool& tool, double above, double turn) {
  // Its end must clear everything even at the low side of its rim.
  const double sine = std::hypot(tool.up.x, tool.up.y);
  const double end =
      std::max((above + kBeyond + tool.radius * sine - tool.floor_centre.z) / tool.up.z, tool.corner + kBeyond);
  const double flat = tool.radius - tool.corner;
  std::vector<ProfileElement> outline;
  Point2 at{0, 0};
  if (tool.recess != 0) {
    const bool domed = tool.recess > 0;
    const FaceSphere ball =
        face_sphere(domed ? FaceShape::domed : FaceShape::dished, std::fabs(tool.recess), tool.recess_radius);
    at = {tool.recess_radius, 0};
    outline.push_back(arc_piece({0, -tool.recess}, at, {0, ball.centre}, ball.radius));
  }
  const auto go = [&](Point2 to) {
    if (std::hypot(to.r - at.r, to.w - at.w) > kLeastPiece) outline.push_back(line_piece(at, to)), at = to;
  };
  go({flat, 0});
  if (tool.corner > 0) {
    const Point2 to{tool.radius, tool.corner};
    outline.push_back(arc_piece(at, to, {flat, tool.corner}, tool.corner));
    at = to;
  }
  go({tool.radius, end});
  go({0, end});
  return revolve(outline, tool_frame(tool.floor_centre, tool.up, turn));
}

std::vector<NamedSurface> tool_surfaces(const CrownTool& tool) {
  return tool.pocket < 0
             ? surfaces_of(tool.tool, Group::dish_floor, Group::dish_corner, Group::dish_wall, -1, tool.what)
             : surfaces_of(tool.tool, Group::floor, Group::corner, Group::wall, tool.pocket, tool.what);
}

void append(std::vector<NamedSurface>& to, std::vector<NamedSurface> from) {
  for (NamedSurface& surface : from) to.push_back(std::move(surface));
}

/// What this tool, with a corner radius of `corner`, cuts of what the others leave, by quadrature.
double volume_cut(const Piston& piston, const CrownNumbers& numbers, const CrownTool& tool, double corner) {
  std::vector<Tool> all, others;
  for (const CrownTool& each : numbers.tools) {
    all.push_back(each.tool);
    if (&each == &tool)
      all.back().corner = corner;
    else
      others.push_back(each.tool);
  }
  return crown_volume(piston, numbers.bottom, all).removed - crown_volume(piston, numbers.bottom, others).removed;
}

/// Cuts the tools in this order. The first that fails, with its result; null when all went well.
const CrownTool* cut_all(NamedSolid& crown, const CrownNumbers& numbers, const std::vector<const CrownTool*>& order,
                         CutResult& result) {
  for (const CrownTool* tool : order) {
    append(crown.surfaces, tool_surfaces(*tool));
    result = cut(
        crown.solid, crown.volume, [&](double turn) { return tool_solid(tool->tool, numbers.top, turn); },
        crown.surfaces);
    if (!result.solid) return tool;
    crown.solid = *result.solid;
    crown.volume = result.volume;
  }
  return nullptr;
}

/// The corner radius is to blame where a sharp corner would cut something.
Fault cuts_too_little(const Piston& piston, const CrownNumbers& numbers, const Origins& origins, const CrownTool& tool,
                      const char* how_much) {
  const bool corner = volume_cut(piston, numbers, tool, 0) >= kSliver;
  return fault_at(
      origins, tool.key + (corner ? ".corner_radius" : ".depth"),
      fmt::format("{}: it cuts {} from the crown: {}", tool.what, how_much,
                  corner ? "its corner radius is too large for its depth" : "it is not deep enough where it stands"));
}

/// The blank with every tool cut. One that fails is cut before all others in another try: then it meets a plain body.
NamedSolid cut_tools(const NamedSolid& blank, const Engine& engine, const Origins& origins,
                     const CrownNumbers& numbers) {
  std::vector<const CrownTool*> order;
  for (const CrownTool& tool : numbers.tools) order.push_back(&tool);
  std::set<const CrownTool*> tried_first;
  while (true) {
    NamedSolid crown = blank;
    CutResult result;
    const CrownTool* failed = cut_all(crown, numbers, order, result);
    if (failed == nullptr) return crown;
    const double missed = result.missed ? volume_cut(engine.piston, numbers, *failed, failed->tool.corner) : kSliver;
    if (missed < kLeastCut) throw InputError({cuts_too_little(engine.piston, numbers, origins, *failed, "nothing")});
    if (result.touches) {
      throw InputError({fault_at(origins, failed->key,
                                 fmt::format("{}: its wall touches another wall or the crown's side along a line, and "
                                             "leaves metal of no thickness there; let them overlap or part",
                                             failed->what))});
    }
    if (!tried_first.insert(failed).second || failed == order.front()) {
      if (missed < kSliver)
        throw InputError({cuts_too_little(engine.piston, numbers, origins, *failed, "next to nothing")});
      throw MachineError(to_string(fault_at(
          origins, failed->key,
          fmt::format("{}: the modeller could not cut it ({}); a small change of its place or diameter usually helps",
                      failed->what, result.reason))));
    }
    std::erase(order, failed);
    order.insert(order.begin(), failed);
  }
}

/// By our own quadrature, which knows nothing of the modeller.
struct Expected {
  CrownVolume crown;
  double dome;
  bool agrees(double volume) const {
    return std::fabs(volume - crown.metal) <=
           kQuadrature * (crown.removed + std::fabs(dome)) + kBooleanVolume * crown.metal;
  }
};

Expected expected_volume(const Piston& piston, const CrownNumbers& numbers, int finer) {
  std::vector<Tool> tools;
  for (const CrownTool& tool : numbers.tools) tools.push_back(tool.tool);
  return {crown_volume(piston, numbers.bottom, tools, finer), crown_volume(piston, 0, {}, finer).metal};
}

void check_volume(const Piston& piston, const CrownNumbers& numbers, double volume, Expected expected) {
  if (expected.agrees(volume)) return;
  expected = expected_volume(piston, numbers, 4);  // a small nick needs the finer grid
  if (expected.agrees(volume)) return;
  std::string names;
  for (const CrownTool& tool : numbers.tools) names += (names.empty() ? "" : ", ") + tool.what;
  throw MachineError(
      fmt::format("the crown's solid is wrong: its volume is {:.3f} mm3 where {:.3f} was expected (with {})", volume,
                  expected.crown.metal, names.empty() ? "no pockets" : names));
}

NamedSolid make_blank(const Piston& piston, const CrownNumbers& numbers) {
  NamedSolid crown;
  crown.surfaces = body_surfaces(piston, numbers);
  crown.solid = revolve(body_outline(piston, numbers), tool_frame({0, 0, 0}, {0, 0, 1}, quiet_azimuth(piston)));
  crown.volume = volume_of(crown.solid);
  if (!piston.roof_dome) return crown;

  // The tall blank's top is not a surface of the crown: if the roof left any of it, that face would not be recognised.
  const TopoDS_Shape tool = roof_tool(*piston.roof_dome, piston.crown_diameter, numbers.top + 2 * kBeyond);
  const CutResult result = cut(
      crown.solid, crown.volume, [&](double) { return tool; }, crown.surfaces);
  if (!result.solid) throw MachineError(fmt::format("the roof: the modeller could not cut it ({})", result.reason));
  crown.solid = *result.solid;
  crown.volume = result.volume;
  return crown;
}

}  // namespace

NamedSolid make_crown(const Engine& engine, const Origins& origins, const CrownNumbers& numbers,
                      std::vector<Fault>& warnings) {
  try {
    // Beside the modeller, on a thread of its own.
    std::future<Expected> expected =
        std::async(std::launch::async, [&] { return expected_volume(engine.piston, numbers, 1); });
    NamedSolid crown = cut_tools(make_blank(engine.piston, numbers), engine, origins, numbers);
    check_volume(engine.piston, numbers, crown.volume, expected.get());
    break_mouths(crown, engine, origins, numbers, warnings);
    return crown;
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the crown: the modeller failed: {}", failure.GetMessageString()));
  }
}

}  // namespace eyebrow
