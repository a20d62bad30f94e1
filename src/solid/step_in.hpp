// The one solid of a STEP file (ISO 10303-21) that is to be the crown.
#pragma once
#include <TopoDS_Shape.hxx>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow {

struct StepSolid {
  TopoDS_Shape solid;                   ///< as it stands in the file, mm
  std::vector<std::string> face_names;  ///< as the file has them, in the modeller's order; empty = none
};

/// Throws InputError, which says what is wrong with the file, placed at piston.step.file or .solid.
StepSolid read_step(const StepCrown& crown, const Origins& origins, std::vector<Fault>& warnings);

}  // namespace eyebrow
