// The middle of what two flat faces have of each other.
#pragma once
#include <optional>
#include <vector>

#include "target.hpp"

namespace eyebrow::gap {

/// A flat valve face over plane faces parallel to it: every place of such a face that lies under the valve's is as near
/// as any other. Made ready for one valve's axis and many poses.
class Patches {
 public:
  /// The target has to outlive this.
  Patches(const Target& target, const Profile& profile, Vec3 up);
  bool empty() const { return planes_.empty(); }

  /// Of the places of a face straight under the valve's face their centroid, or the place nearest to it that is known
  /// where it is not one of them itself (of the face's border then). Rim-plane centre and places in the crown's frame.
  /// Nothing where the face is none of those, or has no such places.
  std::optional<Vec3> middle(int face, Vec3 centre) const;

 private:
  struct Side {  ///< of the border: straight pieces between places of it, the face to the left
    double x0, y0, x1, y1;
  };
  struct Plane {
    int face;
    double height;  ///< along the axis
    std::vector<Side> sides;
  };

  const Target& target_;
  Frame frame_;  ///< directions only
  double radius_ = 0;
  std::vector<Plane> planes_;
};

}  // namespace eyebrow::gap
