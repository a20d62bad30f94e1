// A solid and what is known of its faces.
#pragma once
#include <TopoDS_Shape.hxx>
#include <string>
#include <vector>

#include "solid/named_surface.hpp"

namespace eyebrow {

/// A face that lies on no surface that was asked for: an edge break.
struct MouthFace {
  TopoDS_Shape face;
  int pocket = -1;
  std::string what;  ///< "intake pocket"
};

struct NamedSolid {
  TopoDS_Shape solid;
  std::vector<NamedSurface> surfaces;  ///< what its faces lie on, edge breaks excepted
  std::vector<MouthFace> mouths;
  double volume = 0;
};

}  // namespace eyebrow
