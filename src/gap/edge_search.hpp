// The least distance of a convex solid of revolution from edges, by branch and bound over pieces of arcs.
#pragma once
#include <vector>

#include "arc.hpp"
#include "convex_outline.hpp"

namespace eyebrow::gap {

/// What is known so far: the least distance, its point of the crown and the feature that it lies on.
struct Nearest {
  double value = 0;
  Vec3 point;  ///< valve's axes, origin at the rim-plane centre
  int face = -1;
};

/// Edges turned into a valve's axes, so that a pose only moves them.
class EdgeSet {
 public:
  void add(const Arc& arc, int face);
  void finish();  ///< builds the hierarchy
  bool empty() const { return nodes_.empty(); }

  /// Lowers `best`; what it misses lies at most kEdgeSearch below. `centre`: the rim-plane centre in the edges' axes.
  void search(const ConvexOutline& valve, Vec3 centre, Nearest& best) const;

 private:
  struct Curve {
    Arc arc;
    double third_square, third_w;  ///< bounds of the third derivative of r^2's part that does not move, and of w
    int face;
  };
  struct Piece {
    int curve;
    double middle, half;
    Vec3 at, tangent, normal;  ///< place, first and second derivative at the middle
    double radius;             ///< of a ball about `at` that holds it
  };
  struct Node {
    Vec3 centre, half;
    double radius = 0;
    int left = -1, right = -1, piece = -1;
  };
  struct Query;

  int build(int first, int count);
  Piece piece_of(int curve, double middle, double half) const;

  std::vector<Curve> curves_;
  std::vector<Piece> pieces_;
  std::vector<Node> nodes_;
};

}  // namespace eyebrow::gap
