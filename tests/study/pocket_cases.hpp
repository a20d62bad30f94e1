// Engines whose least pockets are closed form, and what is asked of sized ones.
#pragma once
#include <string>

#include "eyebrow/pocket_sizing.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

inline constexpr double kTravel = 2.5;  // mm: more than the plain crown leaves
inline constexpr double kEase = 0.005;  // mm: what the sizing is good to

/// The disc engine with an intake that needs a pocket; the exhaust is far away, its pocket stays out of the way.
Engine upright(double travel, double radial);

/// How low the rim's plane comes over the crown flat, along the axis `up`: the least over the cycle, on a fine grid and
/// narrowed. Of the motion alone, no kernel.
double lowest_rim(const Setup& setup, int valve);

/// Do all that is asked of one valve to the piston hold with this pocket?
bool leaves(const Engine& engine, int valve);

const SizedPocket& of_valve(const PocketResult& result, const std::string& name);

/// The sized engine with one pocket's numbers changed by so much.
Engine eased(const PocketResult& result, const SizedPocket& one, double diameter, double depth, double x = 0,
             double y = 0);

double metal(const std::string& pocket, MetalLeft::To to, const Engine& engine);

}  // namespace eyebrow::study
