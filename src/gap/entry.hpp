// How deep a rim is in its pocket's mouth.
#pragma once
#include "target.hpp"

namespace eyebrow::gap {

/// Depth of the rim's lowest point (along the bore) below the mouth edge at the same clock position about the pocket's
/// axis; negative = still above. An upright rim has no lowest point: the highest point of the mouth counts. NaN when
/// the pocket has no mouth edge.
double entry_depth(const Target& target, int pocket, Vec3 rim_centre, Vec3 up, double rim_radius);

}  // namespace eyebrow::gap
