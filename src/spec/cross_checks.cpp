#include "spec/cross_checks.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/nearest.hpp"
#include "spec/pocket_floor.hpp"
#include "spec/valve_links.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// Axes within this angle of each other count as parallel for the rim's room in its pocket.
constexpr double kParallel = 0.5 * kDegree;

void check_cylinder(Context& context, const Engine& engine) {
  const double bore = engine.cylinder.bore;
  if (engine.piston.crown_diameter >= bore)
    context.fault(context.place_of("piston.crown_diameter"),
                  fmt::format("piston.crown_diameter {} does not go into the bore, {}",
                              context.length_text(engine.piston.crown_diameter), context.length_text(bore)));
  if (engine.gasket.bore < bore)
    context.warn(context.place_of("gasket.bore"),
                 fmt::format("gasket.bore {} is smaller than the bore, {}: the gasket reaches over the piston",
                             context.length_text(engine.gasket.bore), context.length_text(bore)));
}

void check_pocket(Context& context, const Engine& engine, const Pocket& pocket) {
  const Piston& piston = engine.piston;
  const std::string path = "pocket." + pocket.name;
  const double crown = piston.crown_diameter / 2;
  const double away = std::hypot(pocket.x, pocket.y);
  // The mouth on the crown flat is an ellipse; its long half axis is r / cos g.
  if (away - pocket.diameter / 2 / std::cos(pocket.tilt) >= crown)
    context.fault(
        context.place_of(path + ".x"),
        fmt::format("[{}] misses the crown: its axis is {} from the bore's, its diameter {}, and the crown ends "
                    "at {}",
                    path, context.length_text(away), context.length_text(pocket.diameter), context.length_text(crown)));
  const DeepestPoint deepest = deepest_point(pocket);
  if (piston.underside && deepest.depth >= *piston.underside && std::hypot(deepest.x, deepest.y) < crown)
    context.fault(
        context.place_of(path + ".depth"),
        fmt::format("[{}] goes through the crown: its deepest point is {} below the crown flat, the underside {}", path,
                    context.length_text(deepest.depth), context.length_text(*piston.underside)));
}

/// A warning, as the gaps tell how bad it is.
void check_entry(Context& context, const Engine& engine, const Valve& valve) {
  if (valve.pocket < 0) return;
  const Pocket& pocket = engine.piston.pockets[static_cast<std::size_t>(valve.pocket)];
  const std::string pocket_path = "pocket." + pocket.name;
  const Place place =
      context.place_of(pocket_path + (context.given(pocket_path + ".diameter") ? ".diameter" : ".arc_chord"));
  if (pocket.diameter <= valve.head_diameter) {
    context.warn(place, fmt::format("the rim of valve \"{}\", {}, cannot enter its pocket \"{}\", {} wide", valve.name,
                                    context.length_text(valve.head_diameter), pocket.name,
                                    context.length_text(pocket.diameter)));
    return;
  }
  const Vec3 axis = tilted_axis(pocket.tilt, pocket.lean);
  if (norm(cross(axis, up_axis(engine, valve))) > std::sin(kParallel)) return;
  const Vec3 at = crossing_at_tdc(engine, valve), apart = at - Vec3{pocket.x, pocket.y, 0};
  const Vec3 aside = apart - dot(apart, axis) * axis;
  const double off = norm(aside);
  const double room = (pocket.diameter - valve.head_diameter) / 2;
  if (off < room) return;
  // Where the pocket runs out through the crown's edge there is no wall to keep the rim out.
  const Vec3 wall = Vec3{pocket.x, pocket.y, 0} + (pocket.diameter / (2 * off)) * aside;
  if (std::hypot(wall.x, wall.y) >= engine.piston.crown_diameter / 2) return;
  const auto spot = [&](double x, double y) {
    return fmt::format("x {}, y {}", context.length_text(x), context.length_text(y));
  };
  context.warn(
      place, fmt::format("the rim of valve \"{}\" cannot enter its pocket \"{}\": at TDC the valve's axis meets the "
                         "crown flat at {}, the pocket's at {}; square to them they are {} apart, and the pocket is "
                         "only {} wider all round",
                         valve.name, pocket.name, spot(at.x, at.y), spot(pocket.x, pocket.y), context.length_text(off),
                         context.length_text(room)));
}

/// Pockets or valves exchanged, or mirrored, show here: a valve's axis that runs nearer to another pocket's.
void check_pocket_is_own(Context& context, const Engine& engine, const Valve& valve) {
  if (valve.pocket < 0) return;
  const Vec3 at = crossing_at_tdc(engine, valve);
  const auto away = [&](const Pocket& pocket) { return std::hypot(pocket.x - at.x, pocket.y - at.y); };
  const Pocket& own = engine.piston.pockets[static_cast<std::size_t>(valve.pocket)];
  const auto nearest = std::min_element(engine.piston.pockets.begin(), engine.piston.pockets.end(),
                                        [&](const Pocket& a, const Pocket& b) { return away(a) < away(b); });
  if (!(away(*nearest) < away(own))) return;
  context.warn(
      context.place_of("valve." + valve.name + ".pocket"),
      fmt::format("valve \"{}\" runs over pocket \"{}\", but at TDC its axis meets the crown flat {} from that "
                  "pocket's axis and {} from pocket \"{}\": as a rule a valve's own pocket is the nearest "
                  "(common practice); check for exchanged valves or pockets and the signs of x and y",
                  valve.name, own.name, context.length_text(away(own)), context.length_text(away(*nearest)),
                  nearest->name));
}

void check_valve(Context& context, const Engine& engine, const Valve& valve) {
  const std::string path = "valve." + valve.name;
  if (valve.head_diameter >= engine.cylinder.bore)
    context.fault(context.place_of(path + ".head_diameter"),
                  fmt::format("{}.head_diameter {} does not go into the bore, {}", path,
                              context.length_text(valve.head_diameter), context.length_text(engine.cylinder.bore)));
  const Vec3 closed = closed_place(engine, valve);
  const double away = std::hypot(closed.x, closed.y);
  if (away > engine.cylinder.bore / 2)
    context.fault(
        context.place_of(path + (std::fabs(closed.x) > std::fabs(closed.y) ? ".x" : ".y")),
        fmt::format("{}: the centre of its closed rim lies {} from the bore axis, outside the bore, which ends "
                    "at {}: x and y count from the bore axis to the rim's centre",
                    path, context.length_text(away), context.length_text(engine.cylinder.bore / 2)));
  check_entry(context, engine, valve);
  check_pocket_is_own(context, engine, valve);
}

/// Two valves over one pocket is more likely a slip of `like` than a piston.
void check_shared_pockets(Context& context, const Engine& engine) {
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const Valve &late = engine.valves[i], &early = engine.valves[j];
      if (late.pocket < 0 || late.pocket != early.pocket) continue;
      context.warn(context.place_of("valve." + late.name + ".pocket"),
                   fmt::format("valves \"{}\" and \"{}\" both run over pocket \"{}\"", early.name, late.name,
                               engine.piston.pockets[static_cast<std::size_t>(late.pocket)].name));
    }
  }
}

void check_unused_lobes(Context& context, const Engine& engine) {
  for (const Lobe& lobe : engine.lobes) {
    const bool used = std::any_of(engine.valves.begin(), engine.valves.end(),
                                  [&](const Valve& valve) { return valve.lobe == lobe.name; });
    if (!used && !engine.valves.empty())
      context.warn(context.place_of("lobe." + lobe.name), fmt::format("no valve runs on lobe \"{}\"", lobe.name));
  }
}

/// Faces of a crown from STEP that are said to be a valve's.
void check_named_faces(Context& context, const Engine& engine) {
  if (!engine.piston.step) return;
  std::vector<std::string> names;
  for (const Valve& valve : engine.valves) names.push_back(valve.name);
  int number = 0;
  for (const StepFace& face : engine.piston.step->faces) {
    ++number;
    if (face.valve.empty() || names.empty() || std::find(names.begin(), names.end(), face.valve) != names.end())
      continue;
    const std::string key = fmt::format("piston.step.faces.{}.valve", number);
    context.fault(context.place_of(key), fmt::format("{}: there is no valve \"{}\"{}", key, clipped(face.valve),
                                                     did_you_mean(face.valve, names)));
  }
}

}  // namespace

void check_between_tables(Context& context, const Engine& engine) {
  check_cylinder(context, engine);
  for (const Pocket& pocket : engine.piston.pockets) check_pocket(context, engine, pocket);
  for (const Valve& valve : engine.valves) check_valve(context, engine, valve);
  check_shared_pockets(context, engine);
  check_unused_lobes(context, engine);
  check_named_faces(context, engine);
}

}  // namespace eyebrow
