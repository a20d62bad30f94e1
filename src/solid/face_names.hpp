// The faces of a finished solid, with group, pocket, unique name, frame, radii and area.
#pragma once
#include <string>
#include <vector>

#include "solid/named_solid.hpp"

namespace eyebrow {

/// In the modeller's order of faces. Throws MachineError when a face is not recognised.
std::vector<Face> named_faces(const NamedSolid& solid, const std::string& what);

}  // namespace eyebrow
