// A crown from a STEP file, in the piston frame, with its faces known and meshed.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "solid/named_solid.hpp"

namespace eyebrow {

struct StepCrownSolid {
  NamedSolid solid;         ///< `surfaces` stays empty: nothing was asked for
  std::vector<Face> faces;  ///< in the modeller's order
  Crown mesh;
  std::vector<std::string> file_names;  ///< of the faces, as the file has them
};

/// Throws InputError, or MachineError when the modeller fails.
StepCrownSolid make_step_crown(const Engine& engine, const Origins& origins, double deflection,
                               std::vector<Fault>& warnings);

}  // namespace eyebrow
