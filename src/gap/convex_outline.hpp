// A valve's outline taken apart into convex solids of revolution.
#pragma once
#include <vector>

#include "eyebrow/profile.hpp"

namespace eyebrow::gap {

/// A circle about the valve's axis that can be the nearest part of the valve to a hollow surface: where the outline has
/// a corner, or the centres of an arc, whose surface lies `offset` further along the normal.
struct OutlineCircle {
  double r = 0, w = 0, offset = 0;
  Point2 first, last;  ///< of an arc: its normals' range, counter-clockwise
  bool covers(double nr, double nw) const {
    return offset == 0 || (first.r * nw - first.w * nr >= -1e-9 && nr * last.w - nw * last.r >= -1e-9);
  }
};

/// One convex solid of revolution. Its distance is convex, 1-Lipschitz and does not fall with r.
class ConvexOutline {
 public:
  /// `elements`: connected, from the axis round to the axis, turning left only.
  explicit ConvexOutline(const std::vector<ProfileElement>& elements);

  /// Distance from the point (r, w), r >= 0, and a subgradient of it; not positive inside.
  double eval(double r, double w, double& dr, double& dw) const;
  /// How far the place lies outside the second nearest side's line, or an arc's tangent there, and the way that grows
  /// by; minus infinity where there is none. The distance is nowhere less than that linear function.
  double beside(double r, double w, double& dr, double& dw) const;
  /// How far the way that the distance grows by dips below the level way out from the axis, at places within `spread`
  /// of (r, w): between two angles, no more than half a turn apart where that says anything. Inside the solid, of a
  /// place there; outside, of places further away than `spread`, which (r, w) has to be.
  struct Dips {
    double flat, steep;
  };
  Dips dips_inside(double r, double w, double spread) const;
  Dips dips_outside(double r, double w, double spread) const;
  /// The same of the way up to the solid, at places no further than `spread` from the axis distance r.
  Dips dips_along(double r, double spread) const;
  /// The outline's point with the least a r + b w.
  Point2 support(double a, double b) const;
  /// Least or greatest w of the metal at radius r, 0 <= r <= reach(), and its derivative by r there: of an arc that
  /// ends upright, no steeper than a tangent of it that lies below (above) it everywhere.
  struct Level {
    double w, slope;
    double tangent;  ///< w of that tangent at r
  };
  Level lower(double r) const;
  Level upper(double r) const;
  double lowest() const { return lowest_; }
  double reach() const { return reach_; }    ///< greatest r
  double extent() const { return extent_; }  ///< greatest distance of a point from the rim plane's centre

  struct Line {
    double r, w, tr, tw, length;
  };
  struct Round {
    Point2 centre, from, to;  ///< from, to: unit vectors from the centre
    double radius;
  };
  const std::vector<Line>& lines() const { return lines_; }
  const std::vector<Round>& rounds() const { return rounds_; }

 private:
  Level level(double r, double sign) const;

  std::vector<Line> lines_;
  std::vector<Round> rounds_;
  std::vector<Point2> corners_;
  double lowest_ = 0, reach_ = 0, extent_ = 0;
};

/// The valve as a union of convex pieces, the head first. `profile` must not be hollow below (filled_outline).
std::vector<ConvexOutline> convex_pieces(const Profile& profile);

/// The head with the margin carried up to the top of the stem: it holds the valve, and is as near to whatever lies
/// beside or below it. `profile` must not be hollow below.
ConvexOutline upright_hull(const Profile& profile);

/// The stem's side from where it leaves the head, as high as it stands upright.
struct StemSide {
  double r = 0, foot = 0, top = 0;
};
StemSide stem_side(const Profile& profile);

/// Circles of the whole outline.
std::vector<OutlineCircle> outline_circles(const Profile& profile);

}  // namespace eyebrow::gap
