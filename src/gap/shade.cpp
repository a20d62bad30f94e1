#include "shade.hpp"

#include <algorithm>
#include <cmath>

namespace eyebrow::gap {
namespace {

constexpr double kAlongWall = 1e-6;  // sine: a wall along the ray does not hide what stands past it

bool crosses_ball(Vec3 a, Vec3 d, const TreeNode& node) {
  const double t = std::clamp(dot(node.centre - a, d) / dot(d, d), 0.0, 1.0);
  const Vec3 off = a + t * d - node.centre;
  return dot(off, off) <= node.radius * node.radius;
}

}  // namespace

bool crosses(Vec3 a, Vec3 d, const Piece& piece) {
  const Vec3 p0 = piece.corner[0], e1 = piece.corner[1] - p0, e2 = piece.corner[2] - p0;
  const Vec3 h = cross(d, e2);
  const double det = dot(e1, h);
  const Vec3 square = cross(e1, e2);
  if (det * det <= kAlongWall * kAlongWall * dot(d, d) * dot(square, square)) return false;
  const Vec3 s = a - p0;
  const double u = dot(s, h) / det;
  if (u < 0 || u > 1) return false;
  const Vec3 q = cross(s, e1);
  const double w = dot(d, q) / det;
  if (w < 0 || u + w > 1) return false;
  const double t = dot(e2, q) / det;
  return t >= 0 && t <= 1;
}

const Piece* shade(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, Vec3 foot, Vec3 n,
                   double length) {
  if (length <= 2 * kShadeEnd) return nullptr;
  const Vec3 a = frame.out(foot + kShadeEnd * n), b = frame.out(foot + (length - kShadeEnd) * n);
  const Vec3 d = b - a;
  std::vector<int> stack;
  for (int face : faces) {
    const FaceTree& tree = target.tree(face);
    if (tree.nodes.empty()) continue;
    stack.assign(1, 0);
    while (!stack.empty()) {
      const TreeNode& node = tree.nodes[static_cast<std::size_t>(stack.back())];
      stack.pop_back();
      if (!crosses_ball(a, d, node)) continue;
      if (node.left >= 0) {
        stack.push_back(node.left);
        stack.push_back(node.right);
        continue;
      }
      for (int i = node.first; i < node.first + node.count; ++i)
        if (crosses(a, d, tree.pieces[static_cast<std::size_t>(i)])) return &tree.pieces[static_cast<std::size_t>(i)];
    }
  }
  return nullptr;
}

}  // namespace eyebrow::gap
