// Cam laws: how a follower rises by 1 over an angle of 1.
#pragma once
#include "eyebrow/engine.hpp"

namespace eyebrow::motion {

struct LawPoint {
  double value = 0, velocity = 0, acceleration = 0;
};

/// The law at `u`, 0 ... 1 (taken as 0 or 1 outside). All are point-symmetric about (1/2, 1/2). Velocity and
/// acceleration are zero at both ends, except by the harmonic law, whose acceleration there is +-pi^2 / 2.
LawPoint cam_law(CamLaw law, double u);

/// "modified sine".
const char* to_string(CamLaw law);

}  // namespace eyebrow::motion
