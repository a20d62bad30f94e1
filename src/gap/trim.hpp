// Which part of a surface a face is.
#pragma once
#include <utility>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow::gap {

/// The face's region in two coordinates on its surface, within its border's polygon.
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
