// The printed series: every gap of every valve at the sampled crank angles, and each kind's least between them.
#pragma once
#include <vector>

#include "study/setup.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// A request for one kind alone.
GapRequest request_for(GapKind kind, double reach, bool bounds);

/// One valve's samples; the drop table is left empty.
std::vector<Series> sweep(const Setup& setup, const std::vector<double>& cranks, Pacer& pacer);

/// Fills minimum, deepest_entry and its crank angle of each valve from its series.
void find_minima(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer);

/// What find_minima counts as progress for each valve, in samples.
inline constexpr double kMinimaUnits = 4 * 150.0;

}  // namespace eyebrow::study
