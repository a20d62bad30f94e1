// Per crank angle: travel to contact from the seat, and the greatest lift that the asked gaps allow.
#pragma once
#include <vector>

#include "study/setup.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// Fills drop_travel and greatest_lift of each valve's series.
///
/// greatest_lift: from the seat up to it every asked gap (travel, closest, and face and radial where measured) holds.
/// 0 = not even on the seat. NaN = not computed: at that crank angle no part of the piston comes within the asked gaps
/// of the valve at any lift that its cam gives. At the sampled angles only. The limits of travel and radial are found
/// to a micrometre; a closest or face gap that falls short for less than a quarter millimetre of lift, and holds again,
/// can be stepped over.
void fill_drop_table(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer);

/// What it counts as progress for each sample of each valve, in samples.
inline constexpr double kDropUnits = 5;

}  // namespace eyebrow::study
