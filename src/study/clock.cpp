#include "study/clock.hpp"

#include <cmath>

namespace eyebrow::study {

Spot spot_of(Vec3 point, Vec3 rim_centre, Vec3 up) {
  const Vec3 arm = point - rim_centre;
  const Vec3 across = arm - dot(arm, up) * up;
  Spot spot;
  spot.from_axis = norm(across);
  constexpr double kNoDirection = 1e-9;  // mm; below it an azimuth is rounding
  if (std::hypot(rim_centre.x, rim_centre.y) < kNoDirection || std::hypot(across.x, across.y) < kNoDirection)
    return spot;
  const double noon = std::atan2(-rim_centre.y, -rim_centre.x);
  const double turned = noon - std::atan2(across.y, across.x);  // clockwise from above is falling azimuth
  double hours = std::fmod(12 * turned / (2 * kPi), 12.0);
  if (hours < 0) hours += 12;
  spot.clock = hours < 12 ? hours : 0;  // -1e-17 + 12 rounds to 12
  return spot;
}

}  // namespace eyebrow::study
