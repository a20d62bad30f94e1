// What would restore short gaps, as JSON.
#pragma once
#include <vector>

#include "eyebrow/check.hpp"
#include "json.hpp"

namespace eyebrow {

/// One entry a gap; lengths in mm, changed inputs in the unit of the file.
Json json_remedies(const std::vector<GapRemedies>& remedies);

}  // namespace eyebrow
