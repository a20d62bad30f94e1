// A valve moves against a piston by -lift a - height z: a plane. Its coordinates at right angles, in mm: `along` the
// valve's axis toward the piston, and `aside` across it.
#pragma once
#include <cmath>

#include "eyebrow/field.hpp"
#include "plane_field.hpp"
#include "tolerances.hpp"

namespace eyebrow::gap {

class Slide {
 public:
  explicit Slide(const ValvePlace& place)
      : cosine_(place.up.z), sine_(std::hypot(place.up.x, place.up.y)), upright_(sine_ < kUpright) {}

  double along(const Pose& pose) const { return pose.lift + cosine_ * pose.height; }
  double aside(const Pose& pose) const { return upright_ ? 0 : sine_ * pose.height; }
  /// A pose there; of an upright valve that with height 0.
  Pose pose(double along, double aside) const {
    if (upright_) return {0, along};
    const double height = aside / sine_;
    return {height, along - cosine_ * height};
  }
  PlaneBox box(const PoseBox& of) const {
    const double c = cosine_;  // above zero: valves hang from above
    return {{of.lift_low + c * of.height_low, of.lift_high + c * of.height_high},
            {upright_ ? 0 : sine_ * of.height_low, upright_ ? 0 : sine_ * of.height_high}};
  }
  double cosine() const { return cosine_; }
  bool upright() const { return upright_; }

 private:
  double cosine_, sine_;
  bool upright_;
};

}  // namespace eyebrow::gap
