// The valve's own frame: x, y square to the stem, w along it (up), origin at the rim-plane centre.
#pragma once
#include <cmath>

#include "eyebrow/vec.hpp"

namespace eyebrow::gap {

struct ValveFrame {
  Frame frame;

  ValveFrame(Vec3 centre, Vec3 up) : frame(frame_about(centre, up)) {}

  /// (x, y, w) of a point of the target's frame.
  Vec3 in(Vec3 p) const {
    const Vec3 d = p - frame.origin;
    return {dot(d, frame.x), dot(d, frame.y), dot(d, frame.z)};
  }
  Vec3 turn_in(Vec3 v) const { return {dot(v, frame.x), dot(v, frame.y), dot(v, frame.z)}; }
  Vec3 turn_out(Vec3 v) const { return v.x * frame.x + v.y * frame.y + v.z * frame.z; }
  Vec3 out(Vec3 q) const { return frame.origin + turn_out(q); }
};

/// Without std::hypot's care for numbers near the ends of the range, which lengths in mm are far from: that care takes
/// longer than the rest of a query.
inline double diagonal(double a, double b) {
  return std::sqrt(a * a + b * b);
}

inline double dot_xy(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y;
}

inline double radius_of(Vec3 q) {
  return std::sqrt(q.x * q.x + q.y * q.y);
}

/// (dr, dw) of the half plane through q as a vector of the valve's frame.
inline Vec3 lift_gradient(Vec3 q, double r, double dr, double dw) {
  return r > 1e-12 ? Vec3{dr * q.x / r, dr * q.y / r, dw} : Vec3{dr, 0, dw};
}

}  // namespace eyebrow::gap
