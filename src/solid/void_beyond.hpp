// What may lie beyond the metal, as the distance from any place to it.
#pragma once
#include <vector>

#include "solid/tool.hpp"

namespace eyebrow {

/// The void beyond, seen from one place: how far, where it is nearest, and the straight way from there to the place.
struct SeenBeyond {
  double distance = INFINITY;  ///< negative inside, how deep
  Vec3 nearest;
  Vec3 way;             ///< unit vector; of a turned void (radial, 0, axial)
  bool turned = false;  ///< the void is one of revolution about the bore axis: `way` counts in the half plane
  /// A function that is nowhere above the distance from `p`, equal to it at the place looked from. On a triangle it is
  /// least at a corner: it is linear, or falls with the distance from the axis, which is convex.
  double at_least(Vec3 p) const;
};

/// Under z = -below.
SeenBeyond see_underside(double below, Vec3 from);

/// The room that is both outside `radius` and under z = -below.
SeenBeyond see_groove(double radius, double below, Vec3 from);

/// The crown's outside: the chamfer's cone and the cylinder under it.
SeenBeyond see_edge(double radius, double chamfer, Vec3 from);

/// A pocket or dish, as far as it is under z = top and within `radius` of the bore axis.
class ToolBeyond {
 public:
  ToolBeyond(const Tool& tool, double top, double radius);
  SeenBeyond operator()(Vec3 from) const;
  /// What its distance is not below, found a hundred times sooner.
  double at_least(Vec3 from) const { return norm(from - onto_tool(from)); }

 private:
  Vec3 onto_tool(Vec3 p) const;  ///< the nearest place of it; p itself inside
  Tool tool_;
  double top_, radius_;
};

}  // namespace eyebrow
