// From where a place among solids is seen.
#pragma once
#include <array>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow::scene {

/// What may stand in the way, in one frame.
class Obstacles {
 public:
  void add(const Crown& solid, const Frame& place);
  /// Does nothing stand between `from` and a far eye in this direction (a unit vector)? The nearest `skin` is not
  /// looked at: the place may lie on a surface.
  bool clear(Vec3 from, Vec3 toward_eye, double skin) const;

 private:
  std::vector<std::array<Vec3, 3>> triangles_;
};

/// Where to look at a gap from: a unit vector to the eye, of those from above the deck the one that shows most of it.
/// `outward`: from the valve's axis to the gap, where one rather stands. `beyond`: the eye is only put on this side of
/// the plane; null = anywhere.
Vec3 best_direction(const Obstacles& obstacles, Vec3 on_valve, Vec3 on_piston, Vec3 outward,
                    const Vec3* beyond = nullptr);

}  // namespace eyebrow::scene
