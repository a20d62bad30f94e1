// A solid's surface cut by a plane.
#pragma once
#include <array>
#include <vector>

#include "eyebrow/crown.hpp"
#include "scene/scene.hpp"

namespace eyebrow::scene {

/// Straight pieces between points; where the surface is closed they form closed loops.
struct Cut {
  struct Line {
    std::array<int, 2> ends;
    int face;  ///< into Crown::faces
  };
  std::vector<Vec3> points;
  std::vector<Line> lines;
};

/// `plane` in the solid's frame. It is moved off the place asked by 10 nm, so that it passes no vertex: symmetric parts
/// have many in their planes of symmetry.
Cut cut_by(const Crown& solid, const Plane& plane);

}  // namespace eyebrow::scene
