#include "eyebrow/compression.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "eyebrow/fault.hpp"

namespace eyebrow {
namespace {

double disc(double diameter) {
  return kPi / 4 * diameter * diameter;
}

/// From TDC to BDC: rod and throw in line, both ways, with the pin off the bore axis.
double piston_travel(const Cylinder& cylinder) {
  const double rod = cylinder.rod_length, crank = cylinder.stroke / 2, offset = cylinder.pin_offset;
  const auto reach = [&](double length) { return std::sqrt(length * length - offset * offset); };
  return reach(rod + crank) - reach(rod - crank);
}

/// What of a notch's circle lies outside the bore's: its whole less the lens that both have.
double outside_bore(const BoreNotch& notch, double bore) {
  const double a = notch.diameter / 2, b = bore / 2, d = std::hypot(notch.x, notch.y);
  if (d >= a + b) return disc(notch.diameter);
  if (d + a <= b) return 0;
  if (d + b <= a) return disc(notch.diameter) - disc(bore);
  const double cos_a = std::clamp((d * d + a * a - b * b) / (2 * d * a), -1.0, 1.0);
  const double cos_b = std::clamp((d * d + b * b - a * a) / (2 * d * b), -1.0, 1.0);
  const double kite = std::sqrt(std::max(0.0, (-d + a + b) * (d + a - b) * (d - a + b) * (d + a + b))) / 2;
  return disc(notch.diameter) - (a * a * std::acos(cos_a) + b * b * std::acos(cos_b) - kite);
}

}  // namespace

std::optional<Compression> compression(const Engine& engine, const Crown& crown) {
  if (!engine.head.chamber_volume) return std::nullopt;
  const Cylinder& cylinder = engine.cylinder;
  const Piston& piston = engine.piston;
  Compression out;
  out.swept = disc(cylinder.bore) * piston_travel(cylinder);
  out.chamber = *engine.head.chamber_volume;
  out.gasket = disc(engine.gasket.bore) * engine.gasket.thickness;
  out.deck = disc(cylinder.deck_clearance < 0 ? piston.crown_diameter : cylinder.bore) * cylinder.deck_clearance;
  for (const BoreNotch& notch : cylinder.notches) out.notches += outside_bore(notch, cylinder.bore) * notch.depth;
  for (const Face& face : crown.faces)
    if (face.group == Group::underside) out.crown = disc(piston.crown_diameter) * -face.frame.origin.z - crown.volume;
  if (piston.top_land_height)
    out.top_land = (disc(cylinder.bore) - disc(piston.crown_diameter)) * *piston.top_land_height;
  if (!(out.clearance() > 0))
    throw InputError({{"", 0, 0,
                       fmt::format("chamber, gasket, deck and crown leave {:.4g} cm3 over the piston at TDC: check "
                                   "chamber_volume {:.4g} cm3 and the dome",
                                   out.clearance() / 1000, out.chamber / 1000),
                       "head.chamber_volume"}});
  return out;
}

}  // namespace eyebrow
