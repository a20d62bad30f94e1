// Faults of the solids, placed where the user wrote the number.
#pragma once
#include <string>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow {

/// A fault at `key` ("pocket.intake.depth"); failing that at the nearest key around it; failing that nowhere.
Fault fault_at(const Origins& origins, const std::string& key, std::string message);

/// "12.5 mm" or "0.4921 in": a length as the user's file has it.
std::string length_text(double mm, LengthUnit unit);

}  // namespace eyebrow
