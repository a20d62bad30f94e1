// Vectors and frames. Lengths in mm.
#pragma once
#include <cmath>
#include <numbers>

namespace eyebrow {

inline constexpr double kPi = std::numbers::pi;
inline constexpr double kDegree = kPi / 180.0;  ///< radians in one degree
inline constexpr double kInch = 25.4;           ///< millimetres in one inch (exact)

struct Vec3 {
  double x = 0, y = 0, z = 0;
};

constexpr Vec3 operator+(Vec3 a, Vec3 b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
constexpr Vec3 operator-(Vec3 a, Vec3 b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
constexpr Vec3 operator-(Vec3 a) {
  return {-a.x, -a.y, -a.z};
}
constexpr Vec3 operator*(double s, Vec3 a) {
  return {s * a.x, s * a.y, s * a.z};
}
constexpr double dot(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double norm(Vec3 a) {
  return std::sqrt(dot(a, a));
}
/// @warning the zero vector has no direction: the result is NaN.
inline Vec3 unit(Vec3 a) {
  return (1.0 / norm(a)) * a;
}

/// A right-handed frame: `z` is the axis, `x` and `y` are square to it and to each other.
struct Frame {
  Vec3 origin;
  Vec3 x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};
};

/// A frame at `origin` with the unit vector `axis` as z; x lies in the plane of the axis and the block's x.
inline Frame frame_about(Vec3 origin, Vec3 axis) {
  const Vec3 hint = std::fabs(axis.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  const Vec3 y = unit(cross(axis, hint));
  return {origin, cross(y, axis), y, axis};
}

/// Unit vector tilted by `tilt` from +z toward the azimuth `lean` (radians; 0 = +x, pi/2 = +y).
inline Vec3 tilted_axis(double tilt, double lean) {
  return {std::sin(tilt) * std::cos(lean), std::sin(tilt) * std::sin(lean), std::cos(tilt)};
}

}  // namespace eyebrow
