#include "study/clock.hpp"

#include <cmath>

namespace eyebrow::study {
namespace {

constexpr double kNoDirection = 1e-9;  // mm; below it an azimuth is rounding

}  // namespace

Spot spot_of(Vec3 point, Vec3 rim_centre, Vec3 up) {
  const Vec3 arm = point - rim_centre;
  const Vec3 across = arm - dot(arm, up) * up;
  Spot spot;
  spot.from_axis = norm(across);
  if (std::hypot(rim_centre.x, rim_centre.y) < kNoDirection || std::hypot(across.x, across.y) < kNoDirection)
    return spot;
  const double noon = std::atan2(-rim_centre.y, -rim_centre.x);
  const double turned = noon - std::atan2(across.y, across.x);  // clockwise from above is falling azimuth
  double hours = std::fmod(12 * turned / (2 * kPi), 12.0);
  if (hours < 0) hours += 12;
  spot.clock = hours < 12 ? hours : 0;  // -1e-17 + 12 rounds to 12
  return spot;
}

Vec3 direction_at(double clock, Vec3 rim_centre, Vec3 up) {
  if (std::hypot(rim_centre.x, rim_centre.y) < kNoDirection) return {NAN, NAN, NAN};
  const double azimuth = std::atan2(-rim_centre.y, -rim_centre.x) - 2 * kPi * clock / 12;
  const double x = std::cos(azimuth), y = std::sin(azimuth);
  return unit({x, y, -(up.x * x + up.y * y) / up.z});
}

}  // namespace eyebrow::study
