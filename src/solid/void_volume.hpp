// The crown's volume by plain quadrature, without the modeller: the end check on all its booleans.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"
#include "solid/tool.hpp"

namespace eyebrow {

struct CrownVolume {
  double metal = 0;    ///< mm3, mouth edges sharp
  double removed = 0;  ///< by the tools, of the crown with chamfer and dome
};

/// Height of the metal above (x, y) before any tool: crown flat, dome and top chamfer; 0 outside the crown's diameter.
double blank_top(const Piston& piston, double x, double y);

/// `bottom`: z of the underside. Midpoint rule in polar cells over the crown, exact along z.
/// `finer` = how many times more cells each way.
CrownVolume crown_volume(const Piston& piston, double bottom, const std::vector<Tool>& tools, int finer = 1);

}  // namespace eyebrow
