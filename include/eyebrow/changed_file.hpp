// What changes of single numbers of an engine file do. Each time the file is read again as a whole, so that all that
// follows from a number follows.
#pragma once
#include <vector>

#include "eyebrow/effects_report.hpp"
#include "eyebrow/remedies.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow {

/// For each asked gap that is short what restores it. `cylinder`: of what `source` reads with `given`
/// (EngineFile::checked). Faults have their places. Throws InputError, Interrupted.
std::vector<GapRemedies> remedies_of(const EngineText& source, const MeasuredCylinder& cylinder,
                                     const std::vector<Override>& given, const CheckOptions& options);

struct EffectsAsked {
  bool readings = false;   ///< what the stated reading errors leave open
  bool influence = false;  ///< what every number does
};

/// As `asked`, of the same. Throws as remedies_of.
EffectsTold effects_of(const EngineText& source, const MeasuredCylinder& cylinder, const std::vector<Override>& given,
                       const EffectsAsked& asked, const CheckOptions& options);

}  // namespace eyebrow
