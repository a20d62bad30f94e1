// Booleans that are believed only after they were checked.
#pragma once
#include <TopoDS_Shape.hxx>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "solid/named_surface.hpp"

namespace eyebrow {

struct CutResult {
  double volume = 0;                  ///< of the solid
  std::optional<TopoDS_Shape> solid;  ///< empty when no try passed the checks
  bool missed = false;                ///< the tool shares no volume with the body
  bool touches = false;               ///< the rest is whole, but of no thickness along some line
  std::string reason;                 ///< what was wrong at the last try
};

/// Body less tool. `tool_at(turn)` makes the tool turned about its own axis (this moves its seam), which is tried at
/// several turns. The result must be one valid solid with volume = body - common part, and each of its faces a piece of
/// one of `surfaces`.
/// `before`: the body's volume.
CutResult cut(const TopoDS_Shape& body, double before, const std::function<TopoDS_Shape(double turn)>& tool_at,
              const std::vector<NamedSurface>& surfaces);

/// The only solid in a shape; empty when there is none or there are more.
std::optional<TopoDS_Shape> only_solid(const TopoDS_Shape& shape);

}  // namespace eyebrow
