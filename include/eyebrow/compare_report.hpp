// Engines side by side as text and JSON.
#pragma once
#include <string>

#include "eyebrow/compare.hpp"
#include "eyebrow/report.hpp"

namespace eyebrow {

/// Verdicts, gaps beside each other with what they differ by, the inputs that differ, lifts, and where valves land.
std::string compare_text(const Comparison& comparison, const Format& format);

/// The contract "eyebrow.compare/1": mm and degrees whatever the units; inputs in the unit that is told.
std::string compare_json(const Comparison& comparison);

}  // namespace eyebrow
