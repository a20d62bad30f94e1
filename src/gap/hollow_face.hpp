// A cylinder or a torus with the void inside (a pocket's wall, its corner), seen from circles about a valve's axis.
#pragma once
#include <array>
#include <cmath>
#include <optional>

#include "convex_outline.hpp"
#include "eyebrow/crown.hpp"

namespace eyebrow::gap {

class HollowFace {
 public:
  /// `number`: of the face; `up`: the valve's axis.
  HollowFace(int number, const Face& face, Vec3 up);
  int number() const { return number_; }

  /// Where a circle is nearest to the untrimmed surface, nearer than on either side along the circle.
  struct Near {
    double gap = 0;  ///< negative: beyond the surface
    Vec3 foot;       ///< on the surface
    Vec3 point;      ///< of the circle
  };
  struct Nears {
    std::array<Near, 8> at;
    int count = 0;
  };
  /// `middle`: the circle's centre. Those with a gap of `enough` or more are left out.
  Nears nears(const OutlineCircle& outline, Vec3 middle, double enough) const;

  /// The same of the circle's way down the valve's axis until it meets the surface from within: `gap` is that way.
  Nears exits(const OutlineCircle& outline, Vec3 middle, double enough) const;

  /// The circle's disc is metal of the valve. Where the straight way from a place beyond the surface to a part of the
  /// disc that is within meets the surface; none where no part is: then the circle stands outside altogether.
  std::optional<Vec3> crossing(const OutlineCircle& outline, Vec3 middle, Vec3 beyond) const;

 private:
  struct Circle;
  /// A part of a circle, as turns.
  struct Stretch {
    double from = 0, to = 0;
    bool whole = false;
  };
  struct Stretches {
    std::array<Stretch, 2> at;
    std::size_t count = 0;
  };
  struct Exit {
    double way = INFINITY;
    double past = -INFINITY;  ///< how far outward of a tube's middle the place is where the void is left
  };
  double size() const { return tube_ > 0 ? tube_ : radius_; }
  double depth_at(Vec3 point) const;
  Exit exit(const Circle& circle, double offset, double c, double s) const;
  void add(Nears& nears, const Circle& circle, const OutlineCircle& outline, double turn, double enough) const;

  int number_;
  Vec3 origin_, axis_, up_;
  Vec3 x_, y_;            ///< square to the axis; x in the plane of both axes
  double radius_, tube_;  ///< tube: 0 = cylinder
  double cosine_, sine_;  ///< of the angle between the axes
  Vec3 ex_, ey_;          ///< directions of the valve's circles that go with x and y
};

}  // namespace eyebrow::gap
