// Which lobe and which pocket belong to a valve.
#pragma once
#include <string>

#include "spec/sections.hpp"

namespace eyebrow {

/// The lobe that the table names, else the only one of the valve's role; empty when there is none, and told.
std::string find_lobe(Context& context, Section& section, const Engine& engine, Role role);

/// Index of the pocket that the table names; else of the pocket of the valve's own name; else of the only one that the
/// valve's axis runs into at TDC; -1 for `pocket = "none"` and for a crown without pockets. A fault when none or
/// several would do. Needs the valve's place and tilt.
int find_pocket(Context& context, Section& section, const Engine& engine, const Valve& valve);

/// Where the valve's axis crosses the crown flat at TDC, in the piston frame (z = 0).
Vec3 crossing_at_tdc(const Engine& engine, const Valve& valve);

}  // namespace eyebrow
