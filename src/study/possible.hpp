// Engines that cannot be: numbers that place valves in one another or in the piston before anything has moved.
#pragma once
#include <vector>

#include "study/pairs.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// Throws InputError where the middle of one closed valve's rim plane lies in another's head: no distance need be
/// looked for, and how deep two equal solids in one place overlap takes long to tell.
void require_places_of_their_own(const Setup& setup);

/// With every valve closed and the piston at its highest, overlap is no finding about the engine but a slip in its
/// numbers: InputError. Judged on the upper end of the interval: parts that just touch are measured like any others.
void require_apart_when_closed(const Setup& setup, const std::vector<ValvePair>& pairs);

}  // namespace eyebrow::study
