// The same crown elsewhere, seen in a mirror or written down in another order: what must not change a gap.
#pragma once
#include <algorithm>
#include <numeric>
#include <utility>
#include <vector>

#include "random_parts.hpp"

namespace eyebrow::random_parts {

/// A mirror in x, then a turn about z and a move along the crown's top.
struct Change {
  bool mirror = false;
  double turn = 0;
  Vec3 move;

  Vec3 direction(Vec3 v) const {
    const double x = mirror ? -v.x : v.x;
    return {std::cos(turn) * x - std::sin(turn) * v.y, std::sin(turn) * x + std::cos(turn) * v.y, v.z};
  }
  Vec3 point(Vec3 p) const { return direction(p) + move; }
};

inline Scene changed(Scene s, const Change& change) {
  for (Vec3& p : s.crown.points) p = change.point(p);
  for (Edge& e : s.crown.edges)
    for (auto* chain : {&e.points, &e.fine})
      for (Vec3& p : *chain) p = change.point(p);
  for (Face& f : s.crown.faces) {
    f.frame = {change.point(f.frame.origin), change.direction(f.frame.x), change.direction(f.frame.y),
               change.direction(f.frame.z)};
    if (change.mirror) f.frame.y = -f.frame.y;  // frames stay right-handed
  }
  if (change.mirror)
    for (Triangle& t : s.crown.triangles) std::swap(t.vertex[1], t.vertex[2]);
  s.place = {change.point(s.place.closed), change.direction(s.place.up)};
  return s;
}

/// A random order of 0 ... count - 1.
inline std::vector<int> order(Dice& dice, int count) {
  std::vector<int> result(static_cast<std::size_t>(count));
  std::iota(result.begin(), result.end(), 0);
  for (int i = count - 1; i > 0; --i) std::swap(result[i], result[dice.below(i + 1)]);
  return result;
}

/// Faces, pockets, points and triangles, and each triangle's corners, in another order.
inline Scene reordered(const Scene& scene, Dice& dice) {
  Scene s = scene;
  const Crown& old = scene.crown;
  int pockets = scene.pocket + 1;
  for (const Face& f : old.faces) pockets = std::max(pockets, f.pocket + 1);
  const std::vector<int> face = order(dice, static_cast<int>(old.faces.size())), pocket = order(dice, pockets),
                         point = order(dice, static_cast<int>(old.points.size())),
                         triangle = order(dice, static_cast<int>(old.triangles.size()));
  for (std::size_t i = 0; i < face.size(); ++i) {
    Face& f = s.crown.faces[face[i]];
    f = old.faces[i];
    if (f.pocket >= 0) f.pocket = pocket[f.pocket];
  }
  for (Edge& e : s.crown.edges)
    for (int& f : e.faces)
      if (f >= 0) f = face[f];
  for (std::size_t i = 0; i < point.size(); ++i) s.crown.points[point[i]] = old.points[i];
  for (std::size_t i = 0; i < triangle.size(); ++i) {
    Triangle t = old.triangles[i];
    for (int& v : t.vertex) v = point[v];
    std::rotate(t.vertex.begin(), t.vertex.begin() + dice.below(3), t.vertex.end());
    t.face = face[t.face];
    s.crown.triangles[triangle[i]] = t;
  }
  if (scene.pocket >= 0) s.pocket = pocket[scene.pocket];
  return s;
}

}  // namespace eyebrow::random_parts
