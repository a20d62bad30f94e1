// The exact solids of one engine, each in its own frame.
#pragma once
#include <TopoDS_Shape.hxx>
#include <vector>

namespace eyebrow {

struct Solids {
  TopoDS_Shape crown;                ///< piston frame
  std::vector<TopoDS_Shape> valves;  ///< one a valve: origin at the rim-plane centre, z along the stem, up
  TopoDS_Shape block, gasket;        ///< block frame
};

}  // namespace eyebrow
