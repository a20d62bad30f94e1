// A minimum with everything that goes beside it.
#pragma once
#include "eyebrow/check.hpp"
#include "study/refine.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// The least gap of one kind between a valve and the piston; queried once more with bounds.
Minimum piston_minimum(const Setup& setup, int valve, GapKind kind, const Least& least);

/// Words for a gap whose interval is wide, or that was not found; empty for an ordinary one.
std::string reason_of(const Gap& gap, GapKind kind, const std::string& face_valve, const std::string& face_other);

}  // namespace eyebrow::study
