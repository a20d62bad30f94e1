// Constrained Delaunay triangulation in the plane, on whole numbers, so that every decision is exact.
// After S. W. Sloan, "A fast algorithm for generating constrained Delaunay triangulations", Computers & Structures 47
// (1993), 441-450: points one by one with edge flips, then the constraints, again by flips.
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace eyebrow {

constexpr std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

struct GridPoint {
  std::int64_t x = 0, y = 0;
};

class Delaunay {
 public:
  /// Points must lie within this of 0 in x and y: products of four differences then fit in 128 bits.
  static constexpr std::int64_t kReach = std::int64_t{1} << 28;

  Delaunay();

  /// Adds a point; its index, counted from 0 in the order of adding; the index of the one that is there already when
  /// two coincide.
  int add(GridPoint p);

  /// Makes a-b an edge that stays. False when it would cross another such edge or pass through a point.
  bool constrain(int from, int to);

  /// The constraint that the last refused one would have crossed; {-1, -1} when it was a point.
  std::pair<int, int> blocked_by() const { return blocked_by_; }

  /// Tells inside from outside: each constraint separates the two. False when the constraints close no region.
  bool mark_inside();

  /// Adds a point inside, no nearer than sqrt(`apart2`) to the corners of the triangle it falls in. -1 when it is
  /// outside, too near, or on a constraint.
  int add_inside(GridPoint p, double apart2);

  struct Triangle {
    std::array<int, 3> vertex;  ///< counter-clockwise
    std::array<bool, 3> fixed;  ///< the edge opposite to that vertex is a constraint
  };
  /// The triangles inside.
  std::vector<Triangle> inside() const;

 private:
  struct Cell {
    std::array<int, 3> vertex;            // counter-clockwise
    std::array<int, 3> next{-1, -1, -1};  // neighbour over the edge opposite to that vertex
    std::array<bool, 3> fixed{false, false, false};
    bool inside = false;
  };

  int orient(int a, int b, GridPoint p) const;
  int orient(int a, int b, int c) const { return orient(a, b, point_[static_cast<std::size_t>(c)]); }
  bool in_circle(int a, int b, int c, int d) const;
  Cell& cell(int t) { return cell_[static_cast<std::size_t>(t)]; }
  const Cell& cell(int t) const { return cell_[static_cast<std::size_t>(t)]; }

  int locate(GridPoint p);
  void put(int t, std::array<int, 3> vertex, std::array<int, 3> next, std::array<bool, 3> fixed, bool inside);
  void relink(int t, int from, int to);
  int split(int t, GridPoint p);
  int split_edge(int t, int edge, GridPoint p);
  void flip(int t, int edge);
  void settle(std::vector<std::pair<int, int>> edges);
  std::optional<std::pair<int, int>> find_edge(int a, int b) const;
  std::optional<std::vector<std::pair<int, int>>> crossings(int a, int b);
  int index_of(int t, int vertex) const;
  int index_of_neighbour(int t, int neighbour) const;

  std::vector<GridPoint> point_;
  std::vector<Cell> cell_;
  std::vector<int> any_cell_;  // of each vertex
  int last_ = 0;
  static constexpr int kBuckets = 128;  // along each side
  std::vector<int> near_;               // a vertex in each bucket of the grid; -1 = none yet
  int& near(GridPoint p);
  std::pair<int, int> blocked_by_{-1, -1};
};

}  // namespace eyebrow
