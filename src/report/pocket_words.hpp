// Numbers of a pocket as they are cut, not rounded away: steps of 0.005 mm or 0.0001 in.
#pragma once
#include <string>

#include "eyebrow/pocket_sizing.hpp"
#include "words.hpp"

namespace eyebrow {

/// "1.9401" or "49.280".
std::string cut_text(double mm, LengthUnit unit);

/// "deepest", "sharp edge", "floor centre".
const char* depth_word(DepthTo to);

/// Degrees with two decimals at most.
std::string angle_text(double radians);

/// "anywhere within the tolerances", "in 99.9 % of engines within the tolerances".
std::string within_text(const PocketsWithin& within);

/// "0.020 mm over (x less, x more): intake.radial is short; y less: free for 0.080 mm"; empty where nothing is known.
std::string place_text(const SizedPocket& one, LengthUnit unit);

/// ", 5.80 of 6.00 mm" of metal, ": 0.12 mm too little" or ": there is none" of a gap, by a check of this engine; empty
/// of what else may be missing.
std::string shortfall_text(const Miss& miss, const PocketResult& result, const Lengths& lengths);

/// "asks less metal there" in words of what gives way; empty where nothing is known.
std::string bound_text(const Bound& bound);

}  // namespace eyebrow
