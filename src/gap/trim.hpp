// Which part of a surface a face is.
#pragma once
#include <utility>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow::gap {

/// Two coordinates on a face's surface: in a plane x and y; else the azimuth (radians) about the frame's z and the
/// height along it (cylinder, cone), the angle above the equator (sphere) or about the tube (torus, 0 = outward).
struct OnFace {
  double s = 0, t = 0;
};
OnFace on_face(const Face& face, Vec3 point);

/// The face's region in these coordinates, within its border's polygon.
class Trim {
 public:
  /// `border`: the sides of the face's mesh that just one of its triangles has.
  Trim(const Face& face, const std::vector<std::pair<Vec3, Vec3>>& border);
  /// Is a point of the surface on the face, or within kBorder of it?
  bool holds(Vec3 point) const;

 private:
  struct Side {
    double s0, t0, s1, t1;  ///< s0 < s1
  };
  bool inside(double s, double t) const;

  Face face_;
  bool round_;
  double low_ = 0, width_ = 1;  ///< of the first bin; of each
  std::vector<std::vector<Side>> bins_;
};

}  // namespace eyebrow::gap
