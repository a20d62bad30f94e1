// How deep a pocket really goes.
#pragma once
#include "eyebrow/engine.hpp"

namespace eyebrow {

/// Lowest point of a flat-floored pocket, corner radius included: depth below the crown flat and place in the piston
/// frame, as if the crown had no edge.
struct DeepestPoint {
  double depth = 0;
  double x = 0, y = 0;
};
DeepestPoint deepest_point(const Pocket& pocket);

}  // namespace eyebrow
