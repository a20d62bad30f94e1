// What single numbers of the file do to the least gaps.
#pragma once
#include "eyebrow/effects_report.hpp"
#include "eyebrow/spec.hpp"
#include "options.hpp"

namespace eyebrow::cli {

/// By the numbers of the cylinder: what the reading errors in the file leave open, and with --explain the influence of
/// every number; empty where neither is wanted, or nobody is told.
EffectsTold effects_told(const EngineText& source, const MeasuredCylinder& cylinder, const CheckArguments& arguments);

}  // namespace eyebrow::cli
