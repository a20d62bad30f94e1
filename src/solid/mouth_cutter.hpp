// The solid that a mouth break takes away.
#pragma once
#include <TopoDS_Shape.hxx>
#include <vector>

#include "solid/crown_numbers.hpp"
#include "solid/named_surface.hpp"

namespace eyebrow {

/// A plane that the crown's top is made of.
struct TopPlane {
  Vec3 point, normal;  ///< out of the metal
};

/// The planes that lie along a pocket's mouth. The top is the higher of the flat and the lowest of the roof's.
struct MouthTop {
  bool flat = false;
  std::vector<TopPlane> roof;
  double apart = 0;  ///< the most that flat and roof are apart along the mouth, along the pocket's axis
};

MouthTop mouth_top(const Piston& piston, const Tool& tool, double width);

TopoDS_Shape mouth_cutter(const Tool& tool, const MouthTop& top, double width, double turn);

/// What the cutter's faces in the metal lie on.
std::vector<NamedSurface> mouth_surfaces(const CrownTool& tool, const MouthTop& top);

}  // namespace eyebrow
