// An invented engine so plain that its gaps are closed form: a flat crown without pockets, two valves.
#pragma once
#include "eyebrow/engine.hpp"
#include "eyebrow/parts.hpp"

namespace eyebrow::study {

/// Bore 90, stroke 80; intake 36 mm at (0, 20), exhaust 30 mm at (0, -22); both upright.
Engine disc_engine();

/// Crown and bore as plain meshes by hand, free of the modeller; valve outlines by valve_profile.
Parts disc_parts(const Engine& engine);

}  // namespace eyebrow::study
