// Where a valve runs into the piston: how far it must come out, and how much metal is in the way.
#pragma once
#include "study/setup.hpp"

namespace eyebrow::study {

/// Fills in ValveResult::interference from the least gaps; a doubtful volume adds a warning.
void find_interference(const Setup& setup, CheckResult& result);

}  // namespace eyebrow::study
