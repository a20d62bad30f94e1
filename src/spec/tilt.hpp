// A tilted axis: tilt and lean, or two tilts as projected on the x-z and y-z planes.
#pragma once
#include "spec/section.hpp"

namespace eyebrow {

struct Tilt {
  double tilt = 0;  ///< from the bore axis, radians
  double lean = 0;  ///< azimuth it leans toward going up, radians
};

/// From signed projected tilts, positive = leans toward +x and +y going up: tan^2 g = tan^2 a + tan^2 b.
Tilt from_projected(double tilt_xz, double tilt_yz);

/// Reads tilt and lean, or tilt_xz and tilt_yz; NaN where they are missing or faulty.
Tilt read_tilt(Context& context, Section& section);

}  // namespace eyebrow
