// Best-first branch and bound over the triangles of some faces, in the valve's frame.
#pragma once
#include <algorithm>
#include <array>
#include <limits>
#include <vector>

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
  double low = kInfinity;    ///< nothing in the faces searched lies below this
};

inline Cell cell_of(const Target& target, int triangle, const ValveFrame& frame) {
  const Crown& crown = target.crown();
  const auto& v = crown.triangles[triangle].vertex;
  return {{frame.in(crown.points[v[0]]), frame.in(crown.points[v[1]]), frame.in(crown.points[v[2]])}, triangle};
}

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

/// Problem gives, in the valve's frame:
///   double node_bound(Vec3 centre, const TreeNode&)  nothing in the node lies below it;
///   double cell_bound(const Cell&, Found& best)      the same for a cell; lowers `best` by points that it tries.
/// The result's `value` is within `tolerance` of the least unless the budget ran out; `low` is always a lower bound.
template <class Problem>
Found least(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, Problem& problem,
            double tolerance, double start = kInfinity) {
  struct Item {
    double bound;
    int face, node;  // node >= 0: a tree node; -1: the cell
    Cell cell;
  };
  struct Later {
    bool operator()(const Item& a, const Item& b) const { return a.bound > b.bound; }
  };
  std::vector<Item> heap;
  Found best;
  best.value = start;
  double closed = kInfinity;  // least bound among what was put aside
  const auto push = [&](Item item) {
    if (item.bound >= best.value - tolerance) {
      closed = std::min(closed, item.bound);
      return;
    }
    heap.push_back(std::move(item));
    std::push_heap(heap.begin(), heap.end(), Later{});
  };
  for (int face : faces) {
    const FaceTree& tree = target.trees()[face];
    if (tree.nodes.empty()) continue;
    push({problem.node_bound(frame.in(tree.nodes[0].centre), tree.nodes[0]), face, 0, {}});
  }
  long opened = 0;
  double open = kInfinity;
  while (!heap.empty()) {
    std::pop_heap(heap.begin(), heap.end(), Later{});
    const Item item = std::move(heap.back());
    heap.pop_back();
    if (item.bound >= best.value - tolerance || ++opened > kBudget) {
      open = item.bound;  // the least bound that is left
      break;
    }
    if (item.node >= 0) {
      const FaceTree& tree = target.trees()[item.face];
      const TreeNode& node = tree.nodes[item.node];
      if (node.left >= 0) {
        for (int child : {node.left, node.right})
          push({problem.node_bound(frame.in(tree.nodes[child].centre), tree.nodes[child]), item.face, child, {}});
      } else {
        for (int i = node.first; i < node.first + node.count; ++i) {
          const Cell cell = cell_of(target, tree.order[i], frame);
          push({problem.cell_bound(cell, best), item.face, -1, cell});
        }
      }
    } else {
      for (const Cell& half : halves(item.cell)) push({std::max(item.bound, problem.cell_bound(half, best)), item.face, -1, half});
    }
  }
  best.low = std::min({best.value, open, closed});
  return best;
}

}  // namespace eyebrow::gap
