// [running.rod_stretch], .bearings, .growth, .rock and .gasket.
#include <fmt/format.h>

#include "spec/materials.hpp"
#include "spec/nearest.hpp"
#include "spec/running.hpp"

namespace eyebrow {
namespace {

/// How heavy or thick a part may be beside the bore, kg a litre of bore^3 or a share of bore^2: ten times what usual
/// ones are either way (common practice: at 100 mm bore pistons with pin 0.4 to 1 kg, rods 0.4 to 1.2 kg, beams 200 to
/// 600 mm2). Beyond lies a slip of the unit.
struct BesideBore {
  double low, high;
  int power;
  const char* says;
};
constexpr BesideBore kPistonMass{0.04e-6, 10e-6, 3,
                                 "pistons with pin and rings weigh about 0.4 to 1 kg at 100 mm bore"};
constexpr BesideBore kRodMass{0.04e-6, 12e-6, 3, "rods weigh about 0.4 to 1.2 kg at 100 mm bore"};
constexpr BesideBore kSmallEnd{0.01e-6, 4e-6, 3, "small ends weigh about 0.1 to 0.4 kg at 100 mm bore"};
constexpr BesideBore kSection{0.002, 0.6, 2, "beams have about 200 to 600 mm2 at 100 mm bore"};

/// Mean piston speed, m/s: race engines reach some 26 (common practice).
constexpr double kMostPistonSpeed = 40;
/// Of the bore: several times what any has (common practice). Within these no skirt can turn over in its bore.
constexpr double kMostSkirtClearance = 0.008, kLeastSkirt = 0.2, kMostSkirt = 2;

void judge_beside_bore(Context& context, const Section& section, const std::string& key, std::optional<double> value,
                       double bore, const BesideBore& one) {
  if (!value) return;
  const double scale = std::pow(bore, one.power), low = one.low * scale, high = one.high * scale;
  if (!(*value < low || *value > high)) return;
  const Unit unit = usual_unit(limit_of("running.rod_stretch." + key).measure, context.units.value_or(LengthUnit::mm));
  context.fault(section.place(key),
                fmt::format("{} is {}; allowed beside a bore of {} is {:.2g} to {:.2g} {}; {} (common practice): check "
                            "its unit",
                            section.key_path(key), quantity_text(*value, unit), context.length_text(bore),
                            low / factor(unit), high / factor(unit), to_string(unit), one.says));
}

/// The material's value, or the number's: one of the two. NaN where neither is good.
Material read_material(Context& context, Section& section, const std::string& word_key, const std::string& number_key,
                       const Section::Choices<Material>& choices) {
  const auto word = section.has(number_key) ? std::nullopt : section.choice<Material>(word_key, choices);
  section.know(word_key);
  if (word) return *word;
  if (section.has(number_key) && section.has(word_key))
    context.fault(section.place(word_key), fmt::format("{} is of no use beside {}: give one of the two",
                                                       section.key_path(word_key), number_key));
  if (section.has(word_key) && !section.has(number_key)) {
    section.know(number_key);
    return {"", NAN};  // told
  }
  return {"", section.need(number_key, word_key)};
}

/// A depth of the pin needs the piston's own height.
void need_height(Context& context, const Section& section, const Engine& engine, const std::string& key,
                 const std::optional<double>& height) {
  if (height || std::isnan(engine.cylinder.deck_clearance)) return;  // there, or told already
  context.fault(section.place(), fmt::format("[{}] needs cylinder.{}, which the file does not state: block_deck_height "
                                             "or compression_height beside deck_clearance gives both",
                                             section.path(), key));
}

}  // namespace

RodStretch read_rod_stretch(Context& context, Section& section, const Engine& engine) {
  RodStretch out;
  read_cause(section, out);
  if (effect_given(context, section, {"stretch"},
                   {"rpm", "piston_mass", "small_end_mass", "rod_mass", "section", "material", "modulus"})) {
    out.given = section.number("stretch");
    return out;
  }
  out.rpm = section.need("rpm", "stretch");
  out.piston_mass = section.need("piston_mass");
  out.small_end_mass = section.number("small_end_mass");
  out.rod_mass = section.number("rod_mass");
  if (!out.small_end_mass && !out.rod_mass) section.need("small_end_mass", "rod_mass");
  if (out.small_end_mass && out.rod_mass && *out.small_end_mass >= *out.rod_mass)
    context.fault(section.place("small_end_mass"),
                  fmt::format("{} is {:.4g} kg, as much as the whole rod, {:.4g} kg",
                              section.key_path("small_end_mass"), *out.small_end_mass, *out.rod_mass));
  out.section = section.need("section");
  const Material material = read_material(context, section, "material", "modulus", kModuli);
  out.modulus = material.value;
  out.material = material.name;

  const Cylinder& cylinder = engine.cylinder;
  judge_beside_bore(context, section, "piston_mass", out.piston_mass, cylinder.bore, kPistonMass);
  judge_beside_bore(context, section, "small_end_mass", out.small_end_mass, cylinder.bore, kSmallEnd);
  judge_beside_bore(context, section, "rod_mass", out.rod_mass, cylinder.bore, kRodMass);
  judge_beside_bore(context, section, "section", out.section, cylinder.bore, kSection);
  const double speed = 2 * cylinder.stroke / 1000 * out.rpm / 60;
  if (speed > kMostPistonSpeed)
    context.fault(
        section.place("rpm"),
        fmt::format("{} {:.6g} with a stroke of {} is a mean piston speed of {:.3g} m/s; allowed is to {:g} m/s "
                    "(race engines reach some 26, common practice)",
                    section.key_path("rpm"), out.rpm, context.length_text(cylinder.stroke), speed, kMostPistonSpeed));
  return out;
}

BearingPlay read_bearings(Section& section) {
  BearingPlay out;
  read_cause(section, out);
  out.main = section.need("main");
  out.big_end = section.need("big_end");
  out.pin = section.need("pin");
  return out;
}

Growth read_growth(Context& context, Section& section, const Engine& engine) {
  Growth out;
  read_cause(section, out);
  if (effect_given(context, section, {"growth"},
                   {"crank_warmer", "rod_warmer", "rod_material", "rod_expansion", "piston_warmer", "piston_material",
                    "piston_expansion", "block_warmer", "block_material", "block_expansion"})) {
    out.given = section.number("growth");
    return out;
  }
  const auto read_part = [&](const std::string& part, const Section::Choices<Material>& choices) {
    const double warmer = section.need(part + "_warmer", part == "rod" ? "growth" : "");
    const Material material = read_material(context, section, part + "_material", part + "_expansion", choices);
    return Warm{warmer, material.value, material.name};
  };
  out.rod = read_part("rod", kPartExpansions);
  out.piston = read_part("piston", kPartExpansions);
  out.block = read_part("block", kBlockExpansions);
  out.crank_warmer = section.need("crank_warmer");
  need_height(context, section, engine, "block_deck_height", engine.cylinder.block_deck_height);
  return out;
}

Rock read_rock(Context& context, Section& section, const Engine& engine) {
  Rock out;
  read_cause(section, out);
  need_height(context, section, engine, "compression_height", engine.cylinder.compression_height);
  if (effect_given(context, section, {"angle", "shift"}, {"skirt_clearance", "skirt_length"})) {
    out.angle = section.need("angle");
    out.shift = section.need("shift");
    return out;
  }
  out.skirt_clearance = section.need("skirt_clearance", "angle and shift");
  out.skirt_length = section.need("skirt_length");
  const double bore = engine.cylinder.bore;
  const auto text = [&](double mm) { return context.length_text(mm); };
  if (out.skirt_clearance > kMostSkirtClearance * bore)
    context.fault(section.place("skirt_clearance"),
                  fmt::format("{} is {}; allowed beside a bore of {} is to {}; usual are 0.0005 to 0.002 of the bore "
                              "(common practice)",
                              section.key_path("skirt_clearance"), text(out.skirt_clearance), text(bore),
                              text(kMostSkirtClearance * bore)));
  if (out.skirt_length < kLeastSkirt * bore || out.skirt_length > kMostSkirt * bore)
    context.fault(section.place("skirt_length"),
                  fmt::format("{} is {}; allowed beside a bore of {} is {} to {}; usual are 0.3 to 0.8 of the bore "
                              "(common practice)",
                              section.key_path("skirt_length"), text(out.skirt_length), text(bore),
                              text(kLeastSkirt * bore), text(kMostSkirt * bore)));
  return out;
}

ThinGasket read_thin_gasket(Context& context, Section& section, const Engine& engine) {
  ThinGasket out;
  read_cause(section, out);
  out.least = section.need("least");
  if (out.least > engine.gasket.thickness)
    context.fault(
        section.place("least"),
        fmt::format("{} is {}, more than gasket.thickness, {}: it is the thinnest that the gasket may crush to",
                    section.key_path("least"), context.length_text(out.least),
                    context.length_text(engine.gasket.thickness)));
  return out;
}

}  // namespace eyebrow
