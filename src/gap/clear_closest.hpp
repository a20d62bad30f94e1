// The closest gap of a valve that clears the crown, from exact faces and edges instead of the mesh.
#pragma once
#include <optional>
#include <vector>

#include "convex_outline.hpp"
#include "edge_search.hpp"
#include "hollow_face.hpp"
#include "queries.hpp"
#include "sheet_set.hpp"

namespace eyebrow::gap {

/// A crown seen along one valve's axis, made ready for many poses.
///
/// Where a valve clears the metal, the least distance lies on a convex edge or where the distance is stationary on a
/// face. On a plane that is under the point of the valve that lies lowest over it, on a ball toward the nearest point
/// to its centre. A face that is hollow toward the void (a pocket's wall, its corner) bounds a convex void, and the
/// nearest point of the valve is then one of its outermost circles, where the distance from the axis (the tube's
/// centre) is a convex function's maximum. At a hollow or smooth edge some face beside it is nearer, so these edges are
/// left out. On a cylinder or cone that bulges (the crown's side, a chamfer) the least over the whole surface counts if
/// it is on the face; every other face is searched over, one that is free-form on its mesh.
class ClearClosest {
 public:
  /// `order`: the crown's faces, of equally near ones the first is told. The target has to outlive this.
  ClearClosest(const Target& target, const Profile& profile, Vec3 up, const std::vector<int>& order);

  /// Rim-plane centre in the crown's frame. Nothing where the parts overlap or may, or the shape is not covered: then
  /// the mesh has to answer.
  std::optional<Found> find(Vec3 centre, const ValveShape& valve) const;

 private:
  struct Plane {
    int face;
    Vec3 normal, origin;
    std::vector<Vec3> lowest, highest;  ///< of each convex piece, seen along the normal; crown's frame, from the centre
    std::vector<Vec3> brink;  ///< as near as `lowest` of the head: places around a dish that faces the plane level
  };
  struct Ball {
    int face;
    Vec3 centre;
    double radius;
  };
  struct Ring {  ///< a face that only the mesh knows, about the crown's axis or anywhere
    const FaceTree* tree;
    double least_radius, top;
  };
  struct Bulge {  ///< a cylinder or cone whose metal is convex
    const Face* face;
    SheetSet surface;  ///< over all that the face spans
  };
  struct Extent {              ///< of a convex piece
    double radius, low, high;  ///< in the outline
    double bottom;             ///< least z over the centre, in the crown's frame
  };
  struct Query;

  void add_face(int face);
  void add_edges(const std::vector<int>& rank);
  /// Is a point within the valve (a dish filled in)?
  bool holds(Vec3 centre, Vec3 point) const;
  Vec3 into(Vec3 v) const { return {dot(v, frame_.x), dot(v, frame_.y), dot(v, frame_.z)}; }
  Vec3 out(Vec3 v) const { return v.x * frame_.x + v.y * frame_.y + v.z * frame_.z; }

  const Target& target_;
  Frame frame_;  ///< directions only
  std::vector<ConvexOutline> pieces_;
  std::vector<OutlineCircle> circles_;
  std::vector<Extent> extents_;
  double top_ = 0;  ///< the crown's greatest z
  bool filled_ = false;
  std::vector<Vec3> brink_;  ///< of a dish
  std::vector<Plane> planes_;
  std::vector<HollowFace> hollows_;
  std::vector<Ball> balls_;
  std::vector<Ring> rings_;
  std::vector<Bulge> bulges_;
  SheetSet curved_;       ///< what is curved and none of these, trimmed
  EdgeSet edges_;         ///< where the metal sticks out
  EdgeSet hollow_edges_;  ///< the others: never nearest, but a valve may run into them
};

}  // namespace eyebrow::gap
