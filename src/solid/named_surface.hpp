// The surfaces that were asked for, by name, and the faces of a finished solid recognised among them. Recognition is by
// geometry, not by the booleans' history: it needs no bookkeeping through retries, and it is itself a check that every
// face of the result lies on a surface that was asked for.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "eyebrow/crown.hpp"
#include "solid/occt.hpp"
#include "solid/tool.hpp"

namespace eyebrow {

struct NamedSurface {
  Face face;  ///< kind, frame, radii, group, pocket and name as asked for
  std::function<bool(Vec3)>
      owns;  ///< tells pieces of coinciding surfaces apart by a point inside the piece; may be empty
};

Face named(Group group, std::string name, Surface kind, const Frame& frame, double radius = 0, double radius2 = 0);

/// Floor, corner and wall of a tool. `what`: "intake pocket", "dish".
std::vector<NamedSurface> surfaces_of(const Tool& tool, Group floor, Group corner, Group wall, int pocket,
                                      const std::string& what);

/// The surface that `face` is a piece of; null when it is none of them.
const NamedSurface* recognise(const TopoDS_Face& face, const std::vector<NamedSurface>& surfaces);

/// Makes the names unique: of several pieces with one name the largest keeps it, the others become "name 2", "name 3".
void number_names(std::vector<Face>& faces);

}  // namespace eyebrow
