// A pocket under a valve in closed form: what its gaps would be, quick enough to search over every dimension. What it
// leaves out (the roundness of rims, running, cards' worst lobe, neighbours) is corrected by exact checks: see
// pocket_sizing.cpp.
#pragma once
#include <vector>

#include "solid/tool.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// What of the pocket the model varies. Its axis crosses the crown flat at x, y.
struct PocketShape {
  double x = 0, y = 0;
  double radius = 0;
  double floor = 0;  ///< of the floor's plane along the axis from the crown flat; negative = below
};

/// Gaps, less what is asked of each.
struct ModelMargins {
  double travel = INFINITY, face = INFINITY, radial = INFINITY;
  double closest_floor = INFINITY, closest_wall = INFINITY;  ///< of floor and corner; of wall and mouth
  double outside = INFINITY;  ///< the wall's radius less that of a place over the crown that has no room there
  double closest() const { return std::min(closest_floor, closest_wall); }
  double axial() const { return std::min({travel, face, closest_floor}); }
  double across() const { return std::min({radial, closest_wall, outside}); }
};

class PocketModel {
 public:
  /// `axis`: unit vector of the pocket's, up.
  PocketModel(const Setup& setup, int valve, Vec3 axis, double corner);
  ModelMargins margins(const PocketShape& shape, const AskedValve& asked) const;
  /// Metal that it removes from a crown without other pockets, mm3.
  double volume(const PocketShape& shape) const;
  Tool tool(const PocketShape& shape) const;
  /// Places of the tool's surface within the crown's metal, to measure what is left from.
  std::vector<Vec3> surface(const PocketShape& shape) const;
  /// From its mouth to the crown's edge on the crown flat, mm; negative: it cuts through the edge. What is above the
  /// flat does not count.
  double edge(const PocketShape& shape) const;
  /// Where a pocket starts that is wide and deep enough.
  PocketShape start() const;
  Vec3 axis() const { return axis_; }
  Vec3 across() const { return across_; }  ///< level, toward the axis' lean; +x where upright
  double corner() const { return corner_; }

 private:
  /// A place of the valve's combustion side at one of its poses.
  struct Point {
    Vec3 place;
    double crown = 0;  ///< along the valve's axis down to the crown
    bool rim = true;
  };
  double mouth(const PocketShape& shape, double radius, Vec3 out) const;
  const Piston& piston_;
  Vec3 axis_, up_, across_, aside_;
  double corner_;
  double head_radius_;
  std::vector<Point> points_;
};

}  // namespace eyebrow::study
