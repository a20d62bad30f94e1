// What must be cut from a tall crown to leave a roof dome on its flat.
#pragma once
#include <TopoDS_Shape.hxx>
#include <vector>

#include "eyebrow/engine.hpp"
#include "solid/named_surface.hpp"

namespace eyebrow {

/// All of z > 0 within `reach` of the axis and below `height`, but the roof. Empty shape when the roof is empty.
TopoDS_Shape roof_tool(const RoofDome& roof, double reach, double height);

std::vector<NamedSurface> roof_surfaces(const RoofDome& roof);

}  // namespace eyebrow
