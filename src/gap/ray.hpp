// A straight line against a valve, in the valve's frame.
#pragma once
#include "queries.hpp"

namespace eyebrow::gap {

struct Meeting {
  bool met = false;
  double at = kInfinity;  ///< along the ray; negative: the ray starts inside and the valve reaches that far behind it
  int element = -1;
};

/// Where the ray from p along the unit vector n first meets the valve. A rounded rim edge is approached by its distance
/// (sphere tracing, J. C. Hart, The Visual Computer 12, 1996), everything else is closed form.
Meeting first_meeting(const ProfileDistance& valve, Vec3 p, Vec3 n);

/// No ray along n that stays within `spread` of this one meets the valve before this; infinity = none meets it. The ray
/// starts outside the valve; `behind`: wherever it starts, and what lies behind the start counts.
double earliest_meeting(const ValveShape& valve, Vec3 p, Vec3 n, double spread, bool behind);

}  // namespace eyebrow::gap
