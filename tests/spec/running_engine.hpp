// The two-valve wedge with a [running] of every table: invented numbers.
#pragma once
#include <fmt/format.h>

#include "spec/support.hpp"

namespace eyebrow::testing {

/// The wedge, which states its compression height here, with some tables after it.
inline std::string with_running(const std::string& tables) {
  return wedge_with("rod_length     = 6.000", "rod_length     = 6.000\ncompression_height = 1.26") + tables;
}

inline constexpr const char* kRunning = R"(
[running.rod_stretch]
rpm = 7200
piston_mass = "650 g"
small_end_mass = "190 g"
section = "0.42 in2"
material = "steel" # rod
source = "own scale and caliper"

[running.bearings]
main = 0.0025
big_end = 0.0022
pin = 0.0010

[running.growth]
crank_warmer = "75 K"
rod_warmer = "144 F"
rod_material = "steel"
piston_warmer = "150 C"
piston_expansion = "11.0e-6 /F"
block_warmer = "70 K"
block_material = "iron"

[running.rock]
skirt_clearance = 0.0040
skirt_length = 2.00

[running.gasket]
least = 0.039
use = false

[running.guides.intake]
play = 0.0018
guide_length = 2.0
overhang = 1.4

[running.guides.exhaust]
sideways = 0.006
dip = 0.002

[running.loft.intake]
late = 4

[running.loft.exhaust]
lift = 0.03

[running.chain]
late = 2
early = 0.5

[running.pump_up]
preload = 0.030

[running.asked.intake]
travel = 0.020
radial = 0.016
closest = 0.012

[running.asked.exhaust]
travel = 0.030
radial = 0.015
)";

inline std::string running_wedge() {
  return with_running(kRunning);
}

/// The number that stands at a place of the text, times something, in its own unit, as `--set` takes it.
inline std::string number_at(const std::string& text, const Origin& origin, double times) {
  std::size_t at = 0;
  for (int i = 1; i < origin.line; ++i) at = text.find('\n', at) + 1;
  at += static_cast<std::size_t>(origin.column) - 1;
  if (text[at] == '"') ++at;
  return fmt::format("{:.12g} {}", std::stod(text.substr(at)) * times, origin.unit);
}

}  // namespace eyebrow::testing
