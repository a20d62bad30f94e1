// [piston.step]: a crown from the designer's own CAD.
#pragma once
#include "eyebrow/step_crown.hpp"
#include "spec/section.hpp"

namespace eyebrow {

/// Reads the file whole, and nothing in it: that is for the modeller.
StepCrown read_step_crown(Context& context, Section section);

}  // namespace eyebrow
