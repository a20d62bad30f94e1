// The closed rim plane's height, from itself or from the flush lift.
#pragma once
#include "spec/section.hpp"

namespace eyebrow {

/// Rim plane above the head's deck face from the lift at which the rim's lowest point comes level with that face:
/// h = flush_lift cos g + R sin g, tilt g, rim radius R.
double height_from_flush_lift(double flush_lift, double tilt, double radius);

/// The reverse of it.
double flush_lift_from_height(double rim_height, double tilt, double radius);

/// The tilt between 0 and 60 degrees at which rim height and flush lift agree, nearest to `tilt`; NaN when there is
/// none.
double reconciling_tilt(double rim_height, double flush_lift, double radius, double tilt);

/// Reads rim_height and flush_lift: one, or both in agreement (rim_height then counts).
double read_rim_height(Context& context, Section& section, double tilt, double radius);

}  // namespace eyebrow
