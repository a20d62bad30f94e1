// The hollow of a dished valve: what a place in the metal is away from it, where the metal beside it is deepest, and
// what a place below or within it is away from the metal.
#pragma once
#include <optional>
#include <vector>

#include "convex_outline.hpp"

namespace eyebrow::gap {

/// What the hollow says of a function, where it is greater than of the filled valve.
struct Beside {
  double value = 0;
  bool known = false;  ///< is the rest?
  Vec3 slope;          ///< of the linear function through `value`, with
  double slope_r = 0;  ///< what comes to it by the rise of r; not positive
  double error = 0;    ///< what that may be too great by within what was asked
  double bend = 0;     ///< of that, what a place a unit away in the half plane has
};

/// A dish is part of a ball. Its hollow, closed by a lid, is convex: the distance from it is convex, and the metal is
/// what is in the filled valve and not in the hollow. Of the two distances the lesser is the depth in the metal.
class Dish {
 public:
  /// Nothing where the valve is not dished. `head`: of the filled valve.
  static std::optional<Dish> of(const Profile& profile, const ConvexOutline& head);

  /// Signed distance from the hollow, lid and all; a subgradient.
  double eval(double r, double w, double& dr, double& dw) const;
  double distance(double r, double w) const {
    double dr = 0, dw = 0;
    return eval(r, w, dr, dw);
  }
  /// Minus the distance: nowhere in the metal is the valve's signed distance less. Of the places in the metal within
  /// `aside` in the half plane.
  Beside beside(double r, double w, double aside) const;
  /// From q along the unit vector n, n.z > 0, through the lid to the ball: to where the metal begins. Of all places
  /// within `spread`. Minus infinity where the line does not pass the lid.
  Beside way(Vec3 q, Vec3 n, double spread) const;

  /// From a place under the lid or in the hollow, no further from the axis than the lip, to the ball's part above the
  /// lid or to the lip: how far the dished head is away. Of all places within `aside` in the half plane. Minus infinity
  /// beyond the lip.
  Beside below(double r, double w, double aside) const;
  double lip_radius() const { return lip_.r; }

  /// Where the depth in the half plane is greatest of all places around: each is as far from three sides of the
  /// outline. Some may be no such place.
  const std::vector<Point2>& deepest() const { return deepest_; }

 private:
  Dish(const ProfileElement& arc, const ConvexOutline& head);

  Point2 lip_, outward_;  ///< outward: unit vector from the ball's centre to the lip
  double centre_;         ///< its w
  double radius_;
  std::vector<Point2> deepest_;
};

}  // namespace eyebrow::gap
