// A solid's mesh with one bounding hierarchy a face.
#pragma once
#include <array>
#include <vector>

#include "crown_edges.hpp"
#include "eyebrow/gap.hpp"
#include "trim.hpp"

namespace eyebrow {

struct TreeNode {
  Vec3 centre;        ///< of the box
  Vec3 half;          ///< its half sizes along the tree's axes
  double radius = 0;  ///< of the ball about `centre`
  int left = -1, right = -1;
  int first = 0, count = 0;  ///< leaf: pieces[first .. first+count)
};

/// A triangle of the mesh, or a side of one (the last two corners the same).
struct Piece {
  std::array<Vec3, 3> corner;
  int triangle;  ///< into Crown::triangles
};

struct FaceTree {
  int face = -1;
  Frame axes;                   ///< of the boxes: the face's own frame, so that slivers along its axis stay slim
  std::vector<TreeNode> nodes;  ///< nodes[0] is the root; empty when there are no pieces
  std::vector<Piece> pieces;
};

class Target {
 public:
  explicit Target(Crown crown);
  const Crown& crown() const { return crown_; }
  const FaceTree& tree(int face) const { return trees_[face]; }
  /// Points on the mouth edge of a pocket (where its wall or mouth break meets the rest of the crown's top).
  const std::vector<Vec3>& mouth(int pocket) const { return mouths_[pocket]; }
  int pockets() const { return static_cast<int>(mouths_.size()); }
  /// Where a face's mesh ends: the sides that just one of its triangles has.
  const FaceTree& rim(int face) const { return rims_[face]; }
  /// Which part of its surface each face is, and the edges as arcs. Both are empty where the mesh is all that is known:
  /// it has no edges, or no error, as it is the surface itself.
  const std::vector<gap::Trim>& trims() const { return trims_; }
  const std::vector<gap::CrownEdge>& edges() const { return edges_; }
  /// Outward unit normal (into the void) of a triangle.
  Vec3 normal(int triangle) const { return normals_[triangle]; }
  /// The exact face's normal beside a point of the triangle, where the face is a plane, ball or cone; else the
  /// triangle's. `turn`: how fast it turns about there, radians a mm.
  struct Normal {
    Vec3 unit;
    double turn = 0;
  };
  Normal normal_at(int triangle, Vec3 point) const;
  /// The exact face's normal there, of whatever kind; the triangle's where the mesh is all that is known.
  Vec3 exact_normal_at(int triangle, Vec3 point) const;

 private:
  Crown crown_;
  std::vector<FaceTree> trees_, rims_;
  std::vector<std::vector<Vec3>> mouths_;
  std::vector<Vec3> normals_;
  std::vector<gap::Trim> trims_;
  std::vector<gap::CrownEdge> edges_;
};

}  // namespace eyebrow
