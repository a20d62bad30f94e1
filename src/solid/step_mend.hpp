// Faces that do not quite meet, joined to a solid.
#pragma once
#include <optional>

#include "solid/step_in.hpp"

namespace eyebrow {

/// One sound solid of all faces of `read`, of which those no further apart than `within` (mm) are joined, with its
/// volume above zero; none where that does not close them. No surface is changed, edges are: `moved` tells by how much
/// at most. Throws Standard_Failure as the modeller does.
std::optional<StepSolid> mended(const StepSolid& read, double within);

/// The least of a few round lengths with which that goes; none where the greatest is too small.
std::optional<double> mends_within(const StepSolid& read);

}  // namespace eyebrow
