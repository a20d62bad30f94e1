// What lets the piston stand higher, lean or come nearer to the head.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "motion/allowance_causes.hpp"
#include "motion/running_formulas.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {
namespace {

std::string modulus_text(const RodStretch& from) {
  return fmt::format("{}{:.4g} GPa", from.material.empty() ? "" : from.material + ", ", from.modulus / 1000);
}

std::string warm_text(const char* part, const Warm& warm) {
  return fmt::format("{} {:.3g} K at {:.3g}e-6/K{}", part, warm.warmer, warm.expansion * 1e6,
                     warm.material.empty() ? "" : " (" + warm.material + ")");
}

double grown(const Warm& warm, double length) {
  return warm.warmer * warm.expansion * length;
}

}  // namespace

Allowance rod_stretch(const RodStretch& from, const Cylinder& cylinder, Allowance blank) {
  Allowance out = std::move(blank);
  out.note = "crank bending and a big end that goes oval are not in it";
  if (from.given) {
    out.piston_up = *from.given;
    return out;
  }
  const double rod = from.small_end_mass ? *from.small_end_mass : kRodShare * from.rod_mass.value_or(0);
  const double mass = from.piston_mass + rod;
  const double pull = inertia_pull(mass, cylinder.stroke, cylinder.rod_length, from.rpm);
  out.piston_up = bar_stretch(pull, cylinder.rod_length, from.section, from.modulus);
  out.source =
      fmt::format("computed: {:.3g} kg ({:.3g} kg of it the rod's{}) pull {:.3g} kN at {:.6g} rpm on {:.4g} mm2 ({})",
                  mass, rod, from.small_end_mass ? "" : fmt::format(", {:.0f} % of its whole mass", 100 * kRodShare),
                  pull / 1000, from.rpm, from.section, modulus_text(from));
  return out;
}

Allowance bearing_play(const BearingPlay& from, Allowance blank) {
  // By hand on the bench crank and rod hang in their bearings one way; overrun throws them the other. Between the two
  // lies the whole diametral clearance of each. The oil film that is left at speed, and a bench reading with the play
  // pushed out, make it less.
  Allowance out = std::move(blank);
  out.piston_up = from.main + from.big_end + from.pin;
  out.source = fmt::format("computed: diametral clearances of main {}, big end {}, pin {}", length_text(from.main),
                           length_text(from.big_end), length_text(from.pin));
  out.note = "taken up in full; the oil film left at speed makes it less";
  return out;
}

Allowance growth(const Growth& from, const Cylinder& cylinder, Allowance blank) {
  Allowance out = std::move(blank);
  out.note = "growth of head, valves and gasket is not in it";
  if (from.given) {
    out.piston_up = *from.given;
    return out;
  }
  const Warm crank{from.crank_warmer, kCrankExpansion, "steel"};
  const double parts = grown(crank, cylinder.stroke / 2) + grown(from.rod, cylinder.rod_length) +
                       grown(from.piston, cylinder.compression_height.value_or(0));
  const double block = grown(from.block, cylinder.block_deck_height.value_or(0));
  out.piston_up = std::max(0.0, parts - block);
  out.source = fmt::format("computed: throw, rod and piston grow {}, the block {}: {}, {}, {}, {}", length_text(parts),
                           length_text(block), warm_text("crank", crank), warm_text("rod", from.rod),
                           warm_text("piston", from.piston), warm_text("block", from.block));
  if (parts < block)
    out.note =
        fmt::format("the block grows {} more than the parts: counted as 0; {}", length_text(block - parts), out.note);
  return out;
}

Allowance rock(const Rock& from, const Cylinder& cylinder, Allowance blank) {
  // Bore D, skirt d wide and s long, leaning by t: its middle may stand off by D/2 - d/2 cos t - s/2 sin t, and a pin
  // no further from the middle than half the skirt by s/2 sin t more: together D/2 - d/2 cos t, most at the greatest
  // lean, where it is s/2 sin t: a little more than half the clearance. So lean and shift hold every place of the
  // skirt.
  Allowance out = std::move(blank);
  out.pin_below_crown = cylinder.compression_height.value_or(0);
  if (from.angle) {
    out.rock = *from.angle;
    out.rock_shift = from.shift;
    return out;
  }
  out.rock = lean_in_bore(cylinder.bore, from.skirt_clearance, from.skirt_length);
  out.rock_shift = from.skirt_length / 2 * std::sin(out.rock);
  out.source = fmt::format("computed: skirt {} long, clearance {} cold, leans {:.3f} deg",
                           length_text(from.skirt_length), length_text(from.skirt_clearance), out.rock / kDegree);
  out.note = "a skirt grows when warm and leans less: not credited";
  return out;
}

Allowance thin_gasket(const ThinGasket& from, const Gasket& gasket, Allowance blank) {
  Allowance out = std::move(blank);
  out.gasket = std::max(0.0, gasket.thickness - from.least);
  out.source = fmt::format("computed: {} in the file, {} at its thinnest", length_text(gasket.thickness),
                           length_text(from.least));
  return out;
}

}  // namespace eyebrow::motion
