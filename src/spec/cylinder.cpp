// [cylinder] and [gasket].
#include <fmt/format.h>

#include "spec/sections.hpp"

namespace eyebrow {
namespace {

/// Deck clearance given and deck clearance from the parts may differ by this much: a measuring error, not a slip.
constexpr double kDeckAgreement = 0.01;

/// Pin axis above the crankshaft's at the piston's highest place; NaN when the rod cannot pass.
double highest_pin(double throw_, double rod, double offset) {
  const double reach = rod + throw_;
  return std::sqrt(reach * reach - offset * offset);
}

/// From deck clearance and one height, the other height.
void find_other_height(Context& context, Section& section, Cylinder& cylinder, double pin) {
  const bool block = cylinder.block_deck_height.has_value();
  const double known = block ? *cylinder.block_deck_height : *cylinder.compression_height;
  const double below = pin + cylinder.deck_clearance;
  const double found = block ? known - below : known + below;
  (block ? cylinder.compression_height : cylinder.block_deck_height) = found;
  const char* key = block ? "compression_height" : "block_deck_height";
  const Unit unit = unit_of(context.units.value_or(LengthUnit::mm));
  const auto trouble = limit_trouble(limit_of(std::string("cylinder.") + key), found, unit);
  if (!std::isnan(found) && !trouble.empty())
    context.fault(section.place(block ? "block_deck_height" : "compression_height"),
                  fmt::format("{} {}: from {} {}, deck_clearance {} and the pin at its highest, {}", key, trouble,
                              block ? "block_deck_height" : "compression_height", context.length_text(known),
                              context.length_text(cylinder.deck_clearance), context.length_text(pin)));
}

void read_deck_clearance(Context& context, Section& section, Cylinder& cylinder) {
  const auto given = section.number("deck_clearance");
  const auto block = cylinder.block_deck_height = section.number("block_deck_height");
  const auto compression = cylinder.compression_height = section.number("compression_height");
  if (!block && !compression) {
    cylinder.deck_clearance =
        given ? *given : section.need("deck_clearance", "block_deck_height and compression_height");
    return;
  }
  const double throw_ = cylinder.stroke / 2;
  const double pin = highest_pin(throw_, cylinder.rod_length, cylinder.pin_offset);
  if (!block || !compression) {
    cylinder.deck_clearance = given.value_or(NAN);
    if (given)
      find_other_height(context, section, cylinder, pin);
    else
      section.need(block ? "compression_height" : "block_deck_height");
    return;
  }
  const double found = *block - pin - *compression;
  const auto text = [&](double mm) { return context.length_text(mm); };
  const std::string sum = fmt::format(
      "block_deck_height {} - pin at its highest {} (rod_length {}, half the stroke {}, pin_offset {}) - "
      "compression_height {} = {}",
      text(*block), text(pin), text(cylinder.rod_length), text(throw_), text(cylinder.pin_offset), text(*compression),
      text(found));
  cylinder.deck_clearance = given.value_or(found);
  if (given) {
    if (std::fabs(*given - found) > kDeckAgreement)
      context.fault(section.place("deck_clearance"),
                    fmt::format("deck_clearance is {}, but {}: correct one of them", text(*given), sum));
    return;
  }
  if (std::isnan(found)) return;  // what it is made of has its own fault
  const Unit unit = unit_of(context.units.value_or(LengthUnit::mm));
  if (const auto trouble = limit_trouble(limit_of("cylinder.deck_clearance"), found, unit); !trouble.empty())
    context.fault(section.place("block_deck_height"), fmt::format("deck clearance {}: {}", trouble, sum));
}

void read_notches(Context& context, Section& section, Cylinder& cylinder) {
  for (Section notch : section.named("notch", kMostNotches)) {
    BoreNotch one;
    one.name = notch.name();
    one.x = notch.need("x");
    one.y = notch.need("y");
    one.diameter = notch.need("diameter");
    one.depth = notch.need("depth");
    notch.finish();
    const double away = std::hypot(one.x, one.y), radius = one.diameter / 2;
    if (away + radius <= cylinder.bore / 2 || away - radius >= cylinder.bore / 2)
      context.fault(notch.place(),
                    fmt::format("[{}] does not cut the bore wall, {} from the bore's axis: its own axis is {} from "
                                "that, and its radius is {}",
                                notch.path(), context.length_text(cylinder.bore / 2), context.length_text(away),
                                context.length_text(radius)));
    cylinder.notches.push_back(std::move(one));
  }
}

}  // namespace

void read_cylinder(Context& context, Section& top, Cylinder& cylinder) {
  Section section = top.need_table("cylinder", "bore, stroke, rod_length and deck_clearance");
  cylinder.bore = section.need("bore");
  cylinder.stroke = section.need("stroke");
  cylinder.rod_length = section.need("rod_length");
  cylinder.pin_offset = section.number_or("pin_offset", 0);
  cylinder.rotation = section
                          .choice<Rotation>("rotation", {{"clockwise", Rotation::clockwise},
                                                         {"counterclockwise", Rotation::counterclockwise}})
                          .value_or(Rotation::clockwise);
  const double least = cylinder.stroke / 2 + std::fabs(cylinder.pin_offset);
  if (cylinder.rod_length <= least)
    context.fault(
        section.place("rod_length"),
        fmt::format("rod_length {} cannot pass: it must be longer than half the stroke plus the pin offset, {}",
                    context.length_text(cylinder.rod_length), context.length_text(least)));
  read_deck_clearance(context, section, cylinder);
  read_notches(context, section, cylinder);
  section.finish();
}

void read_gasket(Section& top, Gasket& gasket) {
  Section section = top.need_table("gasket", "thickness and bore");
  gasket.thickness = section.need("thickness");
  gasket.bore = section.need("bore");
  section.finish();
}

}  // namespace eyebrow
