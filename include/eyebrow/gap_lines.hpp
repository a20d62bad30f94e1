// The gaps of an engine as it stands at one crank angle, as lines to draw among its solids.
#pragma once
#include <vector>

#include "eyebrow/parts.hpp"

namespace eyebrow {

/// Each gap there: valve to piston, to another valve, to the bore, named with its value ("intake.radial 1.234 mm") and
/// drawn between its two points, block frame. By each lobe's middle curve. Throws InputError.
std::vector<NamedLine> gap_lines(const Engine& engine, const Parts& parts, double crank);

}  // namespace eyebrow
