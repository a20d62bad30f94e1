#include "target.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "eyebrow/fault.hpp"

namespace eyebrow {
namespace {

constexpr int kLeaf = 2;

double part(const Vec3& v, int axis) { return axis == 0 ? v.x : axis == 1 ? v.y : v.z; }

struct Builder {
  const Crown& crown;
  FaceTree& tree;

  Vec3 middle(int triangle) const {
    const auto& v = crown.triangles[triangle].vertex;
    return turn((1.0 / 3.0) * (crown.points[v[0]] + crown.points[v[1]] + crown.points[v[2]]));
  }

  Vec3 turn(Vec3 p) const { return {dot(p, tree.axes.x), dot(p, tree.axes.y), dot(p, tree.axes.z)}; }

  int build(int first, int count) {
    Vec3 low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
    for (int i = first; i < first + count; ++i)
      for (int vertex : crown.triangles[tree.order[i]].vertex) {
        const Vec3 p = turn(crown.points[vertex]);
        low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
      }
    TreeNode node;
    const Vec3 middle_in_axes = 0.5 * (low + high);
    node.centre = middle_in_axes.x * tree.axes.x + middle_in_axes.y * tree.axes.y + middle_in_axes.z * tree.axes.z;
    node.half = 0.5 * (high - low);
    for (int i = first; i < first + count; ++i)
      for (int vertex : crown.triangles[tree.order[i]].vertex)
        node.radius = std::max(node.radius, norm(crown.points[vertex] - node.centre));
    node.first = first;
    node.count = count;
    const int id = static_cast<int>(tree.nodes.size());
    tree.nodes.push_back(node);
    if (count <= kLeaf) return id;
    const Vec3 size = high - low;
    const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    const int half = count / 2;
    // Ties go to the lower triangle number, so that the tree is the same everywhere.
    std::nth_element(tree.order.begin() + first, tree.order.begin() + first + half, tree.order.begin() + first + count,
                     [&](int a, int b) {
                       const double x = part(middle(a), axis), y = part(middle(b), axis);
                       return x < y || (x == y && a < b);
                     });
    const int left = build(first, half);
    const int right = build(first + half, count - half);
    tree.nodes[id].left = left;
    tree.nodes[id].right = right;
    return id;
  }
};

/// Sides of a face's triangles that no other of its triangles has, in the order of the triangles.
std::vector<std::array<Vec3, 2>> rim(const Crown& crown, const std::vector<int>& triangles) {
  std::map<std::pair<int, int>, int> uses;
  const auto key = [](int a, int b) { return std::pair{std::min(a, b), std::max(a, b)}; };
  for (int t : triangles)
    for (int k = 0; k < 3; ++k) ++uses[key(crown.triangles[t].vertex[k], crown.triangles[t].vertex[(k + 1) % 3])];
  std::vector<std::array<Vec3, 2>> sides;
  for (int t : triangles)
    for (int k = 0; k < 3; ++k) {
      const int a = crown.triangles[t].vertex[k], b = crown.triangles[t].vertex[(k + 1) % 3];
      if (uses[key(a, b)] == 1) sides.push_back({crown.points[a], crown.points[b]});
    }
  return sides;
}

bool is_pocket_side(const Face& face, int pocket) {
  return face.pocket == pocket && (face.group == Group::wall || face.group == Group::mouth);
}

bool is_crown_top(const Face& face) {
  switch (face.group) {
    case Group::flat:
    case Group::dome:
    case Group::top_chamfer:
    case Group::dish_floor:
    case Group::dish_corner:
    case Group::dish_wall: return true;
    default: return false;
  }
}

}  // namespace

Target::Target(Crown crown) : crown_(std::move(crown)) {
  const int faces = static_cast<int>(crown_.faces.size());
  trees_.resize(crown_.faces.size());
  for (int i = 0; i < static_cast<int>(crown_.triangles.size()); ++i) {
    const Triangle& t = crown_.triangles[i];
    if (t.face < 0 || t.face >= faces) throw Error("a mesh triangle names a face that does not exist");
    trees_[t.face].order.push_back(i);
    const Vec3 a = crown_.points[t.vertex[0]], b = crown_.points[t.vertex[1]], c = crown_.points[t.vertex[2]];
    const Vec3 n = cross(b - a, c - a);
    const double length = norm(n);
    normals_.push_back(length > 0 ? (1.0 / length) * n : crown_.faces[t.face].frame.z);
  }
  for (int f = 0; f < faces; ++f) {
    trees_[f].face = f;
    trees_[f].axes = crown_.faces[f].frame;
    rims_.push_back(rim(crown_, trees_[f].order));
    if (!trees_[f].order.empty()) Builder{crown_, trees_[f]}.build(0, static_cast<int>(trees_[f].order.size()));
  }
  int pockets = 0;
  for (const Face& face : crown_.faces) pockets = std::max(pockets, face.pocket + 1);
  mouths_.resize(pockets);
  for (const Edge& edge : crown_.edges) {
    if (edge.faces[0] < 0 || edge.faces[1] < 0) continue;
    for (int turn = 0; turn < 2; ++turn) {
      const Face& side = crown_.faces[edge.faces[turn]];
      const Face& top = crown_.faces[edge.faces[1 - turn]];
      if (side.pocket >= 0 && is_pocket_side(side, side.pocket) && is_crown_top(top))
        mouths_[side.pocket].insert(mouths_[side.pocket].end(), edge.points.begin(), edge.points.end());
    }
  }
}

std::shared_ptr<const Target> make_target(Crown crown) { return std::make_shared<const Target>(std::move(crown)); }

const Crown& crown_of(const Target& target) { return target.crown(); }

}  // namespace eyebrow
