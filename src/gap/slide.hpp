// A valve moves against a piston by -lift a - height z: a plane. Its coordinates at right angles, in mm: `along` the
// valve's axis toward the piston, and `aside` across it.
#pragma once
#include <cmath>

#include "eyebrow/field.hpp"
#include "plane_field.hpp"
#include "tolerances.hpp"

namespace eyebrow::gap {

class SlideFrame {
 public:
  explicit SlideFrame(const ValvePlace& place)
      : cosine_(place.up.z), sine_(std::hypot(place.up.x, place.up.y)), upright_(sine_ < kUpright) {}

  Slide slide(const Pose& pose) const {
    return {pose.lift + cosine_ * pose.height, upright_ ? 0 : sine_ * pose.height};
  }
  /// A pose there; of an upright valve that with height 0.
  Pose pose(const Slide& at) const {
    if (upright_) return {0, at.along};
    const double height = at.aside / sine_;
    return {height, at.along - cosine_ * height};
  }
  double cosine() const { return cosine_; }
  bool upright() const { return upright_; }

 private:
  double cosine_, sine_;
  bool upright_;
};

inline PlaneBox box_of(const SlideBox& of) {
  return {{of.along_low, of.along_high}, {of.aside_low, of.aside_high}};
}

}  // namespace eyebrow::gap
