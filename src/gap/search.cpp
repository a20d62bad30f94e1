#include "search.hpp"

namespace eyebrow::gap {

Vec3 nearest_on(const Cell& cell, Vec3 p) {
  const Vec3 a = cell.corner[0], b = cell.corner[1], c = cell.corner[2];
  const Vec3 ab = b - a, ac = c - a, ap = p - a;
  const double d1 = dot(ab, ap), d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0) return a;
  const Vec3 bp = p - b;
  const double d3 = dot(ab, bp), d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3) return b;
  const double vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return a + (d1 / (d1 - d3)) * ab;
  const Vec3 cp = p - c;
  const double d5 = dot(ab, cp), d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6) return c;
  const double vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return a + (d2 / (d2 - d6)) * ac;
  const double va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) return b + ((d4 - d3) / ((d4 - d3) + (d5 - d6))) * (c - b);
  const double sum = va + vb + vc;
  return a + (vb / sum) * ab + (vc / sum) * ac;
}

int triangle_at(const FaceTree& tree, const ValveFrame& frame, Vec3 point, Vec3 n) {
  if (tree.nodes.empty()) return -1;
  std::vector<int> stack{0};
  while (!stack.empty()) {
    const TreeNode& node = tree.nodes[stack.back()];
    stack.pop_back();
    const Vec3 off = frame.in(node.centre) - point;
    if (dot(off, off) > node.radius * node.radius) continue;
    if (node.left >= 0) {
      stack.push_back(node.left);
      stack.push_back(node.right);
      continue;
    }
    for (int i = node.first; i < node.first + node.count; ++i) {
      const Cell cell = cell_of(tree.pieces[i], frame);
      bool in = true;
      for (int k = 0; k < 3 && in; ++k) {
        // A point on a side shared by two triangles must not fall between them.
        const Vec3 side = cell.corner[(k + 1) % 3] - cell.corner[k];
        in = dot(n, cross(side, point - cell.corner[k])) >= -kTouch * norm(side);
      }
      if (in) return tree.pieces[i].triangle;
    }
  }
  return -1;
}

}  // namespace eyebrow::gap
