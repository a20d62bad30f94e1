// Numbers as messages print them.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow::motion {

/// "1.27 mm (0.050 in)": a lobe does not know its file's unit.
std::string length_text(double mm);

/// "266.0 deg" of crank.
std::string angle_text(double radians);

/// A fault without a place.
Fault fault(std::string message);

/// Adds a doubt about a lobe's key.
void doubt(std::vector<Fault>& doubts, const Lobe& lobe, const std::string& key, std::string message);

}  // namespace eyebrow::motion
