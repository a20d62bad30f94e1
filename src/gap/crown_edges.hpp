// A crown's edges as arcs, and which of them can be nearest to a valve.
#pragma once
#include <array>
#include <vector>

#include "arc.hpp"
#include "eyebrow/crown.hpp"

namespace eyebrow::gap {

struct CrownEdge {
  std::array<int, 2> faces;  ///< its two neighbours
  /// Does the metal stick out along it, somewhere? In doubt it does. Where two faces meet smoothly or enclose a hollow
  /// corner, one of the two is always nearer than the edge.
  bool sticks_out;
  std::vector<Arc> arcs;
};

/// One directed side of a face's border, the face to its left, with the outward normal of the triangle there.
struct BorderSide {
  Vec3 from, to;
  int face;
  Vec3 normal;
};

/// The crown's edges but seams. `border`: of all faces.
std::vector<CrownEdge> crown_edges(const Crown& crown, const std::vector<BorderSide>& border);

}  // namespace eyebrow::gap
