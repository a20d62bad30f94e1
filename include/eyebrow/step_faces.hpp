// What a crown from STEP calls its faces.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/parts.hpp"

namespace eyebrow {

/// Names of Crown::faces in the STEP file that the crown is from, in their order: "" = no name there. Empty where the
/// crown is not from STEP, or was cut off at the stated underside.
std::vector<std::string> names_in_step(const Parts& parts);

}  // namespace eyebrow
