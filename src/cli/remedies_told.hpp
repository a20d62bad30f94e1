// What would restore the short gaps of a check.
#pragma once
#include "eyebrow/remedies.hpp"
#include "eyebrow/spec.hpp"
#include "options.hpp"

namespace eyebrow::cli {

/// By the numbers of the cylinder (`measured`) and the overrides. `what`: stands before the progress.
std::vector<GapRemedies> find_remedies(const EngineText& source, const MeasuredCylinder& cylinder,
                                       const std::vector<Override>& overrides, const std::string& what, bool quiet);

}  // namespace eyebrow::cli
