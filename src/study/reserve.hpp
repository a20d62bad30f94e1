// How far a cam may move before something that is asked is short, and before parts touch.
#pragma once
#include <vector>

#include "study/pairs.hpp"
#include "study/setup.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// Of every cam, both ways; a cam with stops moves with them. Piston, other valves and what is asked of the running
/// engine are looked at; the bore does not know of cams.
std::vector<Reserve> reserves(const Setup& setup, const std::vector<ValvePair>& pairs, Pacer& pacer);

/// What one cam counts as progress, in samples of the sweep.
inline constexpr double kReserveUnits = 400;

}  // namespace eyebrow::study
