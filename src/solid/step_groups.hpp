// What each face of a crown from STEP is: by its geometry, against the axes of the valves.
#pragma once
#include <TopoDS_Shape.hxx>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow {

/// In the modeller's order, with group, pocket (the valve's index), unique name, area; `solid` in the piston frame.
/// `file_names`: as many, or none. Throws InputError where the engine file names a face that is not there.
std::vector<Face> step_faces(const TopoDS_Shape& solid, const std::vector<std::string>& file_names,
                             const Engine& engine, const Origins& origins, std::vector<Fault>& warnings);

}  // namespace eyebrow
