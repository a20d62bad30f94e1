// What a pocket or a dish takes away, as a plain solid of revolution. Free of the modeller: it places the floor, and it
// is what the modeller's volumes are checked against.
#pragma once
#include <optional>

#include "eyebrow/engine.hpp"
#include "eyebrow/vec.hpp"

namespace eyebrow {

/// A floor square to the axis, a corner radius, a wall, open upward.
struct Tool {
  Vec3 floor_centre;         ///< where the axis crosses the floor's plane, piston frame
  Vec3 up{0, 0, 1};          ///< unit vector of the axis, out of the metal
  double radius = 0;         ///< of the wall
  double corner = 0;         ///< radius between floor and wall; 0 = sharp
  double recess = 0;         ///< of a floor shaped like a valve face, at the axis: > 0 below the floor's plane (domed
                             ///< valve), < 0 above it (dished valve)
  double recess_radius = 0;  ///< where that sphere meets the floor's plane
};

/// z from `low` to `high` on a vertical line.
struct Span {
  double low = 0, high = 0;
};

/// Height of the tool's lower surface above the floor's plane, along the axis, at distance `r` <= radius from it.
double floor_height(const Tool& tool, double r);

/// The part of the vertical line at (x, y) inside the tool; empty too when none of it is under `top`.
std::optional<Span> on_vertical(const Tool& tool, double x, double y, double top = INFINITY);

/// Lowest z of the tool; `crown_radius` limits it to what is inside the crown's outside diameter. Empty when none is.
double lowest(const Tool& tool);
std::optional<double> lowest_inside(const Tool& tool, double crown_radius);

/// The tool of a pocket; `valve` gives the floor's shape when it is shaped like a valve face. Empty when `depth` is to
/// the deepest real point and no part of the pocket at that depth is inside the crown's outside diameter.
std::optional<Tool> pocket_tool(const Pocket& pocket, const Valve* valve, double crown_radius);

Tool dish_tool(const Dish& dish);

}  // namespace eyebrow
