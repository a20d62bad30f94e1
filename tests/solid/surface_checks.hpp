// Checks on meshes that use nothing of the code under test: closed surface, volume, distances.
#pragma once
#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <utility>

#include "eyebrow/crown.hpp"

namespace eyebrow::test {

inline Vec3 corner(const Crown& crown, const Triangle& triangle, int i) {
  return crown.points[static_cast<std::size_t>(triangle.vertex[static_cast<std::size_t>(i)])];
}

/// Edges of triangles that are not met exactly once the other way round: 0 on a closed, oriented surface.
inline int open_edges(const Crown& crown) {
  std::map<std::pair<int, int>, int> met;
  for (const Triangle& t : crown.triangles) {
    for (std::size_t i = 0; i < 3; ++i) ++met[{t.vertex[i], t.vertex[(i + 1) % 3]}];
  }
  int open = 0;
  for (const auto& [edge, times] : met) {
    if (times != 1 || !met.contains({edge.second, edge.first})) ++open;
  }
  return open;
}

/// By the divergence theorem: positive when the triangles are counter-clockwise seen from outside the metal.
inline double mesh_volume(const Crown& crown) {
  double volume = 0;
  for (const Triangle& t : crown.triangles)
    volume += dot(corner(crown, t, 0), cross(corner(crown, t, 1), corner(crown, t, 2))) / 6;
  return volume;
}

inline double mesh_area(const Crown& crown, int face) {
  double area = 0;
  for (const Triangle& t : crown.triangles) {
    if (t.face != face) continue;
    area += norm(cross(corner(crown, t, 1) - corner(crown, t, 0), corner(crown, t, 2) - corner(crown, t, 0))) / 2;
  }
  return area;
}

inline double total_area(const Crown& crown) {
  double area = 0;
  for (const Face& face : crown.faces) area += face.area;
  return area;
}

inline std::set<std::string> names_of(const Crown& crown) {
  std::set<std::string> names;
  for (const Face& face : crown.faces) names.insert(face.name);
  return names;
}

inline int face_named(const Crown& crown, const std::string& name) {
  for (std::size_t i = 0; i < crown.faces.size(); ++i) {
    if (crown.faces[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

/// Distance from a triangle, by the closest of its inside, edges and corners.
inline double distance_to_triangle(Vec3 p, Vec3 a, Vec3 b, Vec3 c) {
  const auto to_segment = [p](Vec3 u, Vec3 v) {
    const Vec3 along = v - u;
    const double t = std::clamp(dot(p - u, along) / std::max(dot(along, along), 1e-300), 0.0, 1.0);
    return norm(p - u - t * along);
  };
  const Vec3 normal = cross(b - a, c - a);
  if (dot(normal, normal) > 0) {
    const bool inside = dot(cross(b - a, p - a), normal) >= 0 && dot(cross(c - b, p - b), normal) >= 0 &&
                        dot(cross(a - c, p - c), normal) >= 0;
    if (inside) return std::fabs(dot(p - a, unit(normal)));
  }
  return std::min({to_segment(a, b), to_segment(b, c), to_segment(c, a)});
}

}  // namespace eyebrow::test
