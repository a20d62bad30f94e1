// What would restore short gaps, as text.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/report.hpp"

namespace eyebrow {

/// One block a gap, with an empty line before the first. Empty where there is none. `cylinder`: the measured one whose
/// they are; empty = the file's own.
std::string remedies_text(const std::vector<GapRemedies>& remedies, const Format& format,
                          const std::string& cylinder = "");

}  // namespace eyebrow
