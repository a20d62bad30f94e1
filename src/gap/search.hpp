// Best-first branch and bound over the triangles of some faces, in the valve's frame.
#pragma once
#include <algorithm>
#include <array>
#include <limits>
#include <vector>

#include "profile_distance.hpp"
#include "target.hpp"
#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {

inline constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// A triangle or a part of one; corners in the valve's frame.
struct Cell {
  std::array<Vec3, 3> corner;
  int triangle = -1;
  Vec3 centre() const { return (1.0 / 3.0) * (corner[0] + corner[1] + corner[2]); }
  double radius(Vec3 about) const {
    double most = 0;
    for (const Vec3& c : corner) most = std::max(most, dot(c - about, c - about));
    return std::sqrt(most);
  }
};

struct Found {
  double value = kInfinity;  ///< least value seen; infinity = none
  Vec3 point;                ///< where, in the valve's frame
  int triangle = -1;
  double low = kInfinity;  ///< nothing in the faces searched lies below this
  long opened = 0;         ///< cells and nodes that the search opened
  bool spent = false;      ///< the search gave up: what is there may be as little as `low`, or nothing
  int face = -1;           ///< of the crown, where no triangle is known
};

/// A tree node seen from the valve: its ball, and the box in the half plane that holds it.
struct NodeBox {
  Vec3 centre;
  double radius;
  std::array<Vec3, 3> half;  ///< half edges
  Box2 box;
};

inline NodeBox node_box(const TreeNode& node, const FaceTree& tree, const ValveFrame& frame) {
  const Vec3 c = frame.in(node.centre);
  const double r = radius_of(c);
  const Vec3 out = r > 0 ? Vec3{c.x / r, c.y / r, 0} : Vec3{1, 0, 0}, across{-out.y, out.x, 0};
  double a = 0, b = 0, h = 0;
  std::array<Vec3, 3> edge;
  const Vec3 axes[] = {tree.axes.x, tree.axes.y, tree.axes.z};
  const double half[] = {node.half.x, node.half.y, node.half.z};
  for (int k = 0; k < 3; ++k) {
    edge[k] = half[k] * frame.turn_in(axes[k]);
    a += std::fabs(dot(edge[k], out));
    b += std::fabs(dot(edge[k], across));
    h += std::fabs(edge[k].z);
  }
  // Where the box reaches across the axis its nearest radius is 0.
  return {c, node.radius, edge, {{std::max(0.0, r - a), c.z - h}, {std::sqrt((r + a) * (r + a) + b * b), c.z + h}}};
}

inline Cell cell_of(const Piece& piece, const ValveFrame& frame) {
  return {{frame.in(piece.corner[0]), frame.in(piece.corner[1]), frame.in(piece.corner[2])}, piece.triangle};
}

/// The triangle of a planar face (normal n, valve's frame) that holds a point of its plane; -1 = none.
int triangle_at(const FaceTree& tree, const ValveFrame& frame, Vec3 point, Vec3 n);

/// Halves a cell across its longest side.
inline std::array<Cell, 2> halves(const Cell& cell) {
  int from = 0;
  double longest = -1;
  for (int i = 0; i < 3; ++i) {
    const Vec3 side = cell.corner[(i + 1) % 3] - cell.corner[i];
    const double length = dot(side, side);
    if (length > longest) {
      longest = length;
      from = i;
    }
  }
  const int to = (from + 1) % 3, other = (from + 2) % 3;
  const Vec3 middle = 0.5 * (cell.corner[from] + cell.corner[to]);
  return {Cell{{cell.corner[from], middle, cell.corner[other]}, cell.triangle},
          Cell{{middle, cell.corner[to], cell.corner[other]}, cell.triangle}};
}

/// The cell's point nearest to p. Follows Ericson, Real-Time Collision Detection (2005), section 5.1.5 (memory).
Vec3 nearest_on(const Cell& cell, Vec3 p);

/// Visits the pieces of a tree, in its own order, leaving out every node for which skip(Box2) is true.
template <class Skip, class Visit>
void walk(const FaceTree& tree, const ValveFrame& frame, const Skip& skip, const Visit& visit) {
  if (tree.nodes.empty()) return;
  std::vector<int> stack{0};
  while (!stack.empty()) {
    const TreeNode& node = tree.nodes[stack.back()];
    stack.pop_back();
    if (skip(node_box(node, tree, frame).box)) continue;
    if (node.left >= 0) {
      stack.push_back(node.right);
      stack.push_back(node.left);
      continue;
    }
    for (int i = node.first; i < node.first + node.count; ++i) visit(cell_of(tree.pieces[i], frame));
  }
}

/// Problem gives, in the valve's frame:
///   double node_bound(const NodeBox&, double enough) nothing in the node lies below it (need not exceed `enough`);
///   double cell_bound(const Cell&, Found& best)      the same for a cell; lowers `best` by points that it tries.
/// `start` is the best known beforehand. The result's `value` is within `tolerance` of the least unless the budget ran
/// out; `low` is always a lower bound.
template <class Problem>
Found least(const std::vector<const FaceTree*>& trees, const ValveFrame& frame, Problem& problem, double tolerance,
            const Found& start = {}) {
  struct Item {
    double bound;
    const FaceTree* tree;
    int node;  // >= 0: a node of the tree; -1: the cell
    Cell cell;
    int halved = 0;
  };
  // Of equal bounds the smallest cell goes first, so that a tie ends at its first place instead of spreading.
  struct Later {
    bool operator()(const Item& a, const Item& b) const {
      return a.bound > b.bound || (a.bound == b.bound && a.halved < b.halved);
    }
  };
  std::vector<Item> heap;
  Found best = start;
  double closed = kInfinity;  // least bound among what was put aside
  const auto push = [&](Item item) {
    if (item.bound >= best.value - tolerance) {
      closed = std::min(closed, item.bound);
      return;
    }
    heap.push_back(std::move(item));
    std::push_heap(heap.begin(), heap.end(), Later{});
  };
  for (const FaceTree* tree : trees) {
    if (tree->nodes.empty()) continue;
    push({problem.node_bound(node_box(tree->nodes[0], *tree, frame), best.value), tree, 0, {}});
  }
  long opened = 0;
  double open = kInfinity;
  while (!heap.empty()) {
    std::pop_heap(heap.begin(), heap.end(), Later{});
    const Item item = std::move(heap.back());
    heap.pop_back();
    if (item.bound >= best.value - tolerance || ++opened > kBudget) {
      open = item.bound;  // the least bound that is left
      best.spent = opened > kBudget;
      if (best.spent && best.triangle < 0 && best.face < 0) {
        // Nothing was seen, and there may be something as near as this: never told as nothing.
        const Cell cell = item.node >= 0 ? cell_of(item.tree->pieces.front(), frame) : item.cell;
        best.value = item.bound;
        best.point = cell.centre();
        best.triangle = cell.triangle;
      }
      break;
    }
    if (item.node >= 0) {
      const FaceTree& tree = *item.tree;
      const TreeNode& node = tree.nodes[item.node];
      if (node.left >= 0) {
        for (int child : {node.left, node.right})
          push({problem.node_bound(node_box(tree.nodes[child], tree, frame), best.value), item.tree, child, {}});
      } else {
        for (int i = node.first; i < node.first + node.count; ++i) {
          const Cell cell = cell_of(tree.pieces[i], frame);
          push({problem.cell_bound(cell, best), item.tree, -1, cell});
        }
      }
    } else {
      for (const Cell& half : halves(item.cell))
        push({std::max(item.bound, problem.cell_bound(half, best)), item.tree, -1, half, item.halved + 1});
    }
  }
  best.opened = opened;
  best.low = std::min({best.value, open, closed});
  return best;
}

}  // namespace eyebrow::gap
