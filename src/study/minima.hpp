// The least of every kind of gap of every valve, and its deepest entry. The printed series has no part in them.
#pragma once
#include <vector>

#include "study/setup.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// Fills minimum, as_set, deepest_entry and its crank angle of each valve.
void find_minima(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer);

/// After them: fills card of each valve whose lobe's card leaves something open.
void find_card_ranges(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer);

/// After them: fills running of each valve.
void find_running(const Setup& setup, const std::vector<Allowance>& allowances, std::vector<ValveResult>& valves,
                  Pacer& pacer);

/// What each of the three counts as progress for each valve, in samples.
inline constexpr double kMinimaUnits = 4 * 150.0;

}  // namespace eyebrow::study
