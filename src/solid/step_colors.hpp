// Colours in a STEP model, in an order that is the same each time; the modeller's own writer orders them by address.
#pragma once
#include <TopoDS_Shape.hxx>
#include <XSControl_WorkSession.hxx>
#include <vector>

#include "eyebrow/group_color.hpp"

namespace eyebrow {

struct ColoredFace {
  TopoDS_Shape face;
  Rgb color;
};

/// After the shape was transferred. `shape`: a solid, or an edge; `faces`: those of it that differ.
void color_in_step(const Handle(XSControl_WorkSession) & session, const TopoDS_Shape& shape, Rgb color,
                   const std::vector<ColoredFace>& faces);

}  // namespace eyebrow
