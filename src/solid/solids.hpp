// The exact solids behind Parts.
#pragma once
#include <TopoDS_Shape.hxx>
#include <string>
#include <vector>

#include "solid/named_solid.hpp"

namespace eyebrow {

struct Solids {
  NamedSolid crown;                     ///< piston frame
  std::vector<Face> crown_faces;        ///< in the modeller's order
  std::vector<std::string> file_names;  ///< of the crown's faces in the STEP file that it is from; else empty
  TopoDS_Shape block, gasket;           ///< block frame
  std::vector<Fault> valve_warnings;    ///< that Parts::warnings ends with
  std::vector<TopoDS_Shape> valves;     ///< each in its own frame: z along the stem from the rim-plane centre
};

}  // namespace eyebrow
