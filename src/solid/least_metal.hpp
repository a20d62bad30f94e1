// The least distance from faces of the crown to what lies beyond the metal.
#pragma once
#include <functional>
#include <vector>

#include "eyebrow/crown.hpp"
#include "solid/void_beyond.hpp"

namespace eyebrow {

struct LeastMetal {
  double value = INFINITY;  ///< at `point`; negative: the faces reach into the void beyond
  double low = INFINITY;    ///< proven: no place of the faces is nearer
  Vec3 point, beyond;
  int face = -1;  ///< that `point` lies on
};

/// Over all faces that `wanted` names by their numbers, to 0.1 um and the mesh's error. What is found below `enough` is
/// not looked into further.
LeastMetal least_metal(const Crown& crown, const std::vector<bool>& wanted, const std::function<SeenBeyond(Vec3)>& see,
                       double enough = -INFINITY);

/// Between two sets of faces, along their edges alone.
LeastMetal least_between_edges(const Crown& crown, const std::vector<bool>& one, const std::vector<bool>& other);

}  // namespace eyebrow
