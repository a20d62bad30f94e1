// A valve's outline from a STEP file.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/profile.hpp"

namespace eyebrow {

/// Of a valve with `step`: the stem is carried `stem_length` above the rim plane, wherever it ends in the file. Throws
/// InputError where the file holds no valve that can be checked.
Profile step_valve_profile(const Engine& engine, const Valve& valve, double stem_length, const Origins& origins,
                           std::vector<Fault>& warnings);

}  // namespace eyebrow
