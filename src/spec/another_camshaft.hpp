// What is changed by --set and is no setting of this engine.
#pragma once
#include "eyebrow/engine.hpp"
#include "spec/context.hpp"

namespace eyebrow {

/// Warns where the centre of one lobe was set and its cam carries others: lobes are ground together, and what turns on
/// the engine is the cam (its advance).
void tell_another_camshaft(Context& context, const Engine& engine);

}  // namespace eyebrow
