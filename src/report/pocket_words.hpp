// Numbers of a pocket as they are cut, not rounded away: steps of 0.005 mm or 0.0001 in.
#pragma once
#include <string>

#include "eyebrow/pocket_sizing.hpp"

namespace eyebrow {

/// "1.9401" or "49.280".
std::string cut_text(double mm, LengthUnit unit);

/// "deepest", "sharp edge", "floor centre".
const char* depth_word(DepthTo to);

/// Degrees with two decimals at most.
std::string angle_text(double radians);

/// "asks less metal there" in words of what gives way; empty where nothing is known.
std::string bound_text(const Bound& bound);

}  // namespace eyebrow
