// The hollow of a dished valve: what a place in the metal is away from it, and where the metal beside it is deepest.
#pragma once
#include <optional>
#include <vector>

#include "convex_outline.hpp"

namespace eyebrow::gap {

/// What the distance from a dish's hollow says with the other sign: nowhere in the metal is the signed distance less.
struct Beside {
  double value = 0;
  bool known = false;             ///< is the rest?
  double slope = 0, slope_r = 0;  ///< derivatives by w and r; slope_r is not positive
  double bend = 0;                ///< a place x away in the half plane is above the linear function minus bend x^2
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
  /// With what it says of the places in the metal within `aside` in the half plane.
  Beside beside(double r, double w, double aside) const;

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
