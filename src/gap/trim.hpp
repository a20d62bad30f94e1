// Which part of a surface a face is.
#pragma once
#include <utility>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow::gap {

/// The face's region in two coordinates on its surface, within its border's polygon.
class Trim {
 public:
  /// `border`: its sides, closed loops of short straight pieces.
  Trim(const Face& face, const std::vector<std::pair<Vec3, Vec3>>& border);
  /// Is a point of the surface on the face, or within kBorder of it?
  bool holds(Vec3 point) const;
  /// Is it on the face?
  bool within(Vec3 point) const;

  /// How a box of the two coordinates lies: off the face, on it whole, or across its border.
  enum class Box { off, across, on };
  Box box(double s0, double s1, double t0, double t1) const;
  /// What the border spans of each coordinate; a round face goes all the way round.
  struct Range {
    double s0, s1, t0, t1;
  };
  const Range& range() const { return range_; }
  /// Is a cone's point on the face?
  bool has_point() const { return has_point_; }

 private:
  struct Side {
    double s0, t0, s1, t1;  ///< s0 <= s1
  };
  void reach_point();
  bool inside(double s, double t) const;
  /// Is the number of sides under a place odd? `at_end`: a side ends there, so that rounding may decide.
  bool odd(double s, double t, bool& at_end) const;

  Face face_;
  bool round_;
  bool has_point_ = false;
  bool from_below_ = false;     ///< the face reaches to below all of its border
  double low_ = 0, width_ = 1;  ///< of the first bin; of each
  Range range_{0, 0, 0, 0};
  std::vector<std::vector<Side>> bins_;
};

}  // namespace eyebrow::gap
