// [piston] with its dish, dome or roof.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "spec/sections.hpp"
#include "spec/step_crown.hpp"

namespace eyebrow {
namespace {

/// mm, of a plateau that is stated as high as its planes go.
constexpr double kRidgeRounding = 1e-4;
/// (2/3)^40 of the crown is 1e-5 mm.
constexpr int kThirds = 40;

constexpr std::size_t kMostRoofPlanes = 8;

Dish read_dish(Context& context, Section section, const Piston& piston) {
  Dish dish;
  dish.diameter = section.need("diameter");
  dish.depth = section.need("depth");
  dish.corner_radius = section.number_or("corner_radius", 0);
  dish.x = section.number_or("x", 0);
  dish.y = section.number_or("y", 0);
  section.finish();
  const double fits = std::fmin(dish.depth, dish.diameter / 2);
  if (dish.corner_radius > fits)
    context.fault(section.place("corner_radius"),
                  fmt::format("{}: {} does not fit; allowed is the lesser of depth and half the diameter, {}",
                              section.key_path("corner_radius"), context.length_text(dish.corner_radius),
                              context.length_text(fits)));
  const double reach = std::hypot(dish.x, dish.y) + dish.diameter / 2;
  if (reach >= piston.crown_diameter / 2)
    context.fault(section.place("diameter"),
                  fmt::format("the dish reaches {} from the bore axis; the crown ends at {}",
                              context.length_text(reach), context.length_text(piston.crown_diameter / 2)));
  if (piston.underside && dish.depth >= *piston.underside)
    context.fault(section.place("depth"),
                  fmt::format("the dish is {} deep and goes through the crown's underside at {}",
                              context.length_text(dish.depth), context.length_text(*piston.underside)));
  return dish;
}

RoundDome read_round_dome(Context& context, Section section, const Piston& piston) {
  RoundDome dome;
  const auto shape =
      section.need_choice<DomeShape>("shape", {{"sphere", DomeShape::sphere}, {"cone", DomeShape::cone}});
  dome.shape = shape.value_or(DomeShape::sphere);
  dome.height = section.need("height");
  dome.base_diameter = section.need("base_diameter");
  if (shape == DomeShape::cone) {
    dome.top_diameter = section.need("top_diameter");
    if (dome.top_diameter >= dome.base_diameter)
      context.fault(section.place("top_diameter"),
                    fmt::format("the dome's top_diameter {} must be less than its base_diameter {}",
                                context.length_text(dome.top_diameter), context.length_text(dome.base_diameter)));
  } else {
    section.know("top_diameter");
    if (shape && section.has("top_diameter"))
      context.fault(section.place("top_diameter"), "a sphere has no top_diameter; a cone has one");
    if (shape && dome.height > dome.base_diameter / 2)
      context.fault(section.place("height"),
                    fmt::format("a round dome {} high is more than half a ball on a base of {}",
                                context.length_text(dome.height), context.length_text(dome.base_diameter)));
  }
  section.finish();
  if (dome.base_diameter > piston.crown_diameter)
    context.fault(section.place("base_diameter"),
                  fmt::format("the dome's base {} is wider than the crown, {}", context.length_text(dome.base_diameter),
                              context.length_text(piston.crown_diameter)));
  return dome;
}

/// Where the lowest of the planes is highest above the crown flat, within the crown: concave, so that halving a third
/// away at a time finds it.
double ridge(const RoofDome& roof, double crown_radius) {
  struct Falling {
    double top, x, y;
  };
  std::vector<Falling> planes;
  for (const RoofPlane& plane : roof.planes) {
    const double steep = std::tan(plane.slope);
    planes.push_back({plane.meets * steep, steep * std::cos(plane.toward), steep * std::sin(plane.toward)});
  }
  const auto lowest = [&](double x, double y) {
    double least = std::numeric_limits<double>::infinity();
    for (const Falling& plane : planes) least = std::min(least, plane.top - x * plane.x - y * plane.y);
    return least;
  };
  const auto greatest = [](double reach, const auto& of) {
    double low = -reach, high = reach;
    for (int i = 0; i < kThirds; ++i) {
      const double a = low + (high - low) / 3, b = high - (high - low) / 3;
      (of(a) < of(b) ? low : high) = of(a) < of(b) ? a : b;
    }
    return of(0.5 * (low + high));
  };
  return greatest(crown_radius, [&](double x) {
    const double reach = std::sqrt(std::max(0.0, crown_radius * crown_radius - x * x));
    return greatest(reach, [&](double y) { return lowest(x, y); });
  });
}

RoofDome read_roof(Context& context, Section section, double crown_radius) {
  RoofDome roof;
  roof.plateau = section.need("plateau");
  const std::size_t told = context.faults.size();
  for (Section plane : section.list("planes")) {
    RoofPlane one;
    one.slope = plane.need("slope");
    one.toward = plane.need("toward");
    one.meets = plane.need("meets");
    plane.finish();
    roof.planes.push_back(one);
  }
  const bool none = roof.planes.empty() && context.faults.size() == told;
  if (none || roof.planes.size() > kMostRoofPlanes)
    context.fault(section.place("planes"),
                  fmt::format("[{}] needs planes, 1 to {} of them: planes = [{{ slope = 15, toward = 0, meets = 33 }}]",
                              section.path(), kMostRoofPlanes));
  section.finish();
  if (roof.planes.empty() || context.faults.size() != told || !std::isfinite(roof.plateau)) return roof;
  if (const double top = ridge(roof, crown_radius); roof.plateau > top + kRidgeRounding)
    context.warn(section.place("plateau"),
                 fmt::format("the planes of [{}] are nowhere higher than {} above the crown flat: a plateau at {} is "
                             "never reached, and the roof ends in a ridge",
                             section.path(), context.length_text(top), context.length_text(roof.plateau)));
  return roof;
}

/// What the file of the crown says must not be said again; what only checks it, or is not in it, may be.
void read_piston_of_step(Context& context, Section& section, Piston& piston) {
  piston.step = read_step_crown(context, section.table("step"));
  piston.crown_diameter = section.number_or("crown_diameter", 0);
  piston.top_land_height = section.number("top_land_height");
  piston.ring_groove_depth = section.number("ring_groove_depth");
  piston.underside = section.number("underside");
  for (const char* key : {"top_chamfer", "dish", "dome", "roof"}) {
    section.know(key);
    if (section.has(key))
      context.fault(section.place(key), fmt::format("{}: the crown is taken from STEP ([piston.step]), which has no "
                                                    "such number: change the crown there, or leave this out",
                                                    section.key_path(key)));
  }
  section.finish();
}

}  // namespace

void read_piston(Context& context, Section& top, Piston& piston) {
  Section section = top.need_table("piston", "crown_diameter");
  if (section.has("step")) return read_piston_of_step(context, section, piston);
  piston.crown_diameter = section.need("crown_diameter");
  piston.top_chamfer = section.number_or("top_chamfer", 0);
  piston.top_land_height = section.number("top_land_height");
  piston.ring_groove_depth = section.number("ring_groove_depth");
  piston.underside = section.number("underside");
  if (Section dish = section.table("dish"); dish.exists()) piston.dish = read_dish(context, dish, piston);
  Section dome = section.table("dome"), roof = section.table("roof");
  if (dome.exists()) piston.round_dome = read_round_dome(context, dome, piston);
  if (roof.exists()) piston.roof_dome = read_roof(context, roof, piston.crown_diameter / 2);
  if (dome.exists() && roof.exists())
    context.fault(roof.place(), "[piston.dome] and [piston.roof] are both given; a crown has one of them");
  section.know("step");
  section.finish();
}

}  // namespace eyebrow
