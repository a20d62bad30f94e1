// The least of every kind of gap of every valve, and its deepest entry. The printed series has no part in them.
#pragma once
#include <vector>

#include "study/setup.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// Fills minimum, deepest_entry and its crank angle of each valve.
void find_minima(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer);

/// What find_minima counts as progress for each valve, in samples.
inline constexpr double kMinimaUnits = 4 * 150.0;

}  // namespace eyebrow::study
