// A minimum with everything that goes beside it.
#pragma once
#include "eyebrow/check.hpp"
#include "study/refine.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// Crank angle, span and piston depth of a least; the gap, lifts and entry are still to come.
Minimum minimum_at(const Setup& setup, const Least& least);

/// Gives minimum.gap the proven lower end, and what lies on either side of a jump.
void set_proven(Minimum& minimum, const Least& least);

/// What lies on either side of the gap, and where the valve is.
struct Sides {
  Vec3 shift;  ///< from the gap's frame into the block frame
  const Profile& valve;
  const Crown& other;
  Vec3 rim_centre, up;  ///< of the valve, block frame
};

/// Fills in points, faces, clock position and reason from minimum.gap.
void describe(Minimum& minimum, GapKind kind, const Sides& sides);

/// The least gap of one kind between a valve and the piston; queried once more with bounds.
Minimum piston_minimum(const Setup& setup, int valve, GapKind kind, const Least& least);

}  // namespace eyebrow::study
