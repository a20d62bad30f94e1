// [pocket.NAME].
#include <fmt/format.h>

#include "spec/nearest.hpp"
#include "spec/pocket_floor.hpp"
#include "spec/sections.hpp"
#include "spec/tilt.hpp"

namespace eyebrow {
namespace {

/// A word that means "no pocket" where a valve names its own.
constexpr const char* kNoPocket = "none";

/// Of the circle through an arc: chord c across it and height h above the middle of the chord give h + c^2 / (4 h).
double read_diameter(Context& context, Section& section) {
  const bool arc = section.has("arc_chord") || section.has("arc_height");
  if (arc && section.has("diameter")) {
    for (const char* key : {"diameter", "arc_chord", "arc_height"}) section.know(key);
    context.fault(
        section.place("diameter"),
        fmt::format("[{}] gives its width twice: either diameter, or arc_chord and arc_height", section.path()));
    return NAN;
  }
  if (!arc) {
    section.know("arc_chord");
    section.know("arc_height");
    return section.need("diameter", "arc_chord and arc_height");
  }
  section.know("diameter");
  const double chord = section.need("arc_chord"), height = section.need("arc_height");
  const double diameter = height + chord * chord / (4 * height);
  const Unit unit = unit_of(context.units.value_or(LengthUnit::mm));
  if (std::isfinite(diameter)) {
    if (const auto trouble = limit_trouble(limit_of("pocket.*.diameter"), diameter, unit); !trouble.empty()) {
      context.fault(section.place("arc_height"),
                    fmt::format("[{}]: the diameter from arc_chord and arc_height {}", section.path(), trouble));
      return NAN;
    }
  }
  return diameter;
}

void check_corner(Context& context, const Section& section, const Pocket& pocket) {
  if (pocket.corner_radius >= pocket.diameter / 2)
    context.fault(section.place("corner_radius"),
                  fmt::format("{}: {} does not fit; it must be less than half the diameter, {}",
                              section.key_path("corner_radius"), context.length_text(pocket.corner_radius),
                              context.length_text(pocket.diameter / 2)));
  // A corner fills the deepest edge of a tilted floor: so large a one leaves no pocket.
  const double least = limit_of("pocket.*.depth").low, deepest = deepest_point(pocket).depth;
  if (pocket.corner_radius > 0 && pocket.corner_radius < pocket.diameter / 2 && deepest < least)
    context.fault(section.place("corner_radius"),
                  fmt::format("{}: {} leaves next to nothing of the pocket: its deepest real point is {} {} the crown "
                              "flat; allowed is at least {} below it",
                              section.key_path("corner_radius"), context.length_text(pocket.corner_radius),
                              context.length_text(std::fabs(deepest)), deepest < 0 ? "above" : "below",
                              context.length_text(least)));
}

}  // namespace

void read_pockets(Context& context, Section& top, Piston& piston) {
  for (Section section : top.named("pocket", kMostPockets)) {
    if (piston.step) {
      context.fault(section.place(), fmt::format("[{}]: the crown is taken from STEP ([piston.step]), whose pockets "
                                                 "have no such numbers: change the pocket there, or leave this out",
                                                 section.path()));
      continue;
    }
    Pocket pocket;
    pocket.name = section.name();
    if (pocket.name == kNoPocket)
      context.fault(section.place(),
                    "a pocket cannot be named \"none\": it is the word for a valve that has no pocket");
    pocket.x = section.need("x");
    pocket.y = section.need("y");
    const Tilt tilt = read_tilt(context, section);
    pocket.tilt = tilt.tilt;
    pocket.lean = tilt.lean;
    pocket.diameter = read_diameter(context, section);
    pocket.depth = section.need("depth");
    pocket.depth_to = section
                          .choice<DepthTo>("depth_to", {{"deepest", DepthTo::deepest},
                                                        {"sharp edge", DepthTo::sharp_edge},
                                                        {"floor centre", DepthTo::floor_centre}})
                          .value_or(DepthTo::deepest);
    pocket.corner_radius = section.number_or("corner_radius", 0);
    pocket.mouth_break = section.number_or("mouth_break", 0);
    pocket.floor =
        section.choice<FloorShape>("floor", {{"flat", FloorShape::flat}, {"valve face", FloorShape::valve_face}})
            .value_or(FloorShape::flat);
    section.finish();
    check_corner(context, section, pocket);
    piston.pockets.push_back(std::move(pocket));
  }
}

}  // namespace eyebrow
