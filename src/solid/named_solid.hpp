// A solid and what is known of its faces.
#pragma once
#include <TopoDS_Shape.hxx>
#include <vector>

#include "solid/named_surface.hpp"

namespace eyebrow {

/// A solid and what its faces lie on.
struct NamedSolid {
  TopoDS_Shape solid;
  std::vector<NamedSurface> surfaces;
  double volume = 0;
};

}  // namespace eyebrow
