// The crown's numbers, checked and completed, before any solid is made of them.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "solid/tool.hpp"

namespace eyebrow {

/// One thing that is cut from the crown.
struct CrownTool {
  Tool tool;
  std::string what;  ///< "intake pocket", "dish"
  std::string key;   ///< in the engine file
  int pocket = -1;   ///< index into Piston::pockets
  double mouth_break = 0;
};

struct CrownNumbers {
  double bottom = 0;             ///< z of the underside: as given, or kMetalBelow under the deepest feature
  double top = 0;                ///< greatest z of the metal
  std::vector<CrownTool> tools;  ///< in the order they are cut: dish, then pockets
};

/// Adds every fault found in the crown's numbers to `faults`; what it returns is of use only if none was added.
CrownNumbers check_crown(const Engine& engine, const Origins& origins, std::vector<Fault>& faults);

}  // namespace eyebrow
