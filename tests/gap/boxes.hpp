// Crowns of plain boxes on a floor, every side a face, with edges and an error, so that the exact ways answer.
#pragma once
#include <algorithm>

#include "eyebrow/gap.hpp"

namespace eyebrow::boxes {

/// One rectangle a, a + u, a + u + v, a + v, its normal u x v into the void.
inline void add_rectangle(Crown& crown, Group group, const std::string& name, Vec3 a, Vec3 u, Vec3 v) {
  const int face = static_cast<int>(crown.faces.size()), first = static_cast<int>(crown.points.size());
  Face plane{Surface::plane, group, -1, name, {a, unit(u), unit(v), unit(cross(u, v))}, 0, 0, norm(u) * norm(v)};
  crown.faces.push_back(plane);
  for (const Vec3 p : {a, a + u, a + u + v, a + v}) crown.points.push_back(p);
  crown.triangles.push_back({{first, first + 1, first + 2}, face});
  crown.triangles.push_back({{first, first + 2, first + 3}, face});
}

/// Every side of every rectangle as an edge, of two faces where two rectangles share it.
inline void add_edges(Crown& crown) {
  const auto same = [](Vec3 a, Vec3 b) { return norm(a - b) < 1e-12; };
  for (std::size_t face = 0; face < crown.faces.size(); ++face)
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec3 from = crown.points[4 * face + k], to = crown.points[4 * face + (k + 1) % 4];
      const auto shared = std::ranges::find_if(
          crown.edges, [&](const Edge& e) { return same(e.points.front(), to) && same(e.points.back(), from); });
      if (shared != crown.edges.end())
        shared->faces[1] = static_cast<int>(face);
      else
        crown.edges.push_back({{static_cast<int>(face), -1}, {from, to}});
    }
}

inline Crown floor_with_box(Vec3 low, Vec3 high) {
  Crown crown;
  const Vec3 d = high - low, x{d.x, 0, 0}, y{0, d.y, 0}, z{0, 0, d.z};
  add_rectangle(crown, Group::flat, "crown flat", {-60, -60, 0}, {120, 0, 0}, {0, 120, 0});
  add_rectangle(crown, Group::side, "top", low + z, x, y);
  add_rectangle(crown, Group::side, "bottom", low, y, x);
  add_rectangle(crown, Group::side, "left", low, z, y);
  add_rectangle(crown, Group::side, "right", low + x, y, z);
  add_rectangle(crown, Group::side, "front", low, x, z);
  add_rectangle(crown, Group::side, "back", low + y, z, x);
  add_edges(crown);
  crown.error = 1e-9;  // no chord is off a plane; not 0, which says that the mesh is all there is
  return crown;
}

}  // namespace eyebrow::boxes
