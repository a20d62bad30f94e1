// The exact solids behind Parts.
#pragma once
#include <TopoDS_Shape.hxx>
#include <vector>

#include "solid/named_solid.hpp"

namespace eyebrow {

struct Solids {
  NamedSolid crown;                  ///< piston frame
  std::vector<Face> crown_faces;     ///< in the modeller's order
  TopoDS_Shape block, gasket;        ///< block frame
  std::vector<TopoDS_Shape> valves;  ///< each in its own frame: z along the stem from the rim-plane centre
};

}  // namespace eyebrow
