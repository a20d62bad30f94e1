// An invented engine so plain that its gaps are closed form: a flat crown without pockets, two valves.
#pragma once
#include "eyebrow/check.hpp"
#include "eyebrow/engine.hpp"
#include "eyebrow/parts.hpp"

namespace eyebrow::study {

inline constexpr double kMicrometre = 0.001;  // mm

/// Bore 90, stroke 80; intake 36 mm at (0, 20), exhaust 30 mm at (0, -22); both upright.
Engine disc_engine();

/// Crown and bore as plain meshes by hand, free of the modeller; valve outlines by valve_profile.
Parts disc_parts(const Engine& engine);

inline CheckOptions stepping(double step, bool drop_table = false) {
  CheckOptions options;
  options.step = step;
  options.drop_table = drop_table;
  return options;
}

}  // namespace eyebrow::study
