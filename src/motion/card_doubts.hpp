// Numbers of a cam card that make a lobe, and most likely not the engine's.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow::motion {

/// Lift at the lobe given as lift at the valve, or the reverse: by the diameter of the valve's head. For tables and
/// cards alike; `peak`: the lobe's greatest lift, where it is measured.
void doubt_side(const Lobe& lobe, const Valve& valve, double peak, std::vector<Fault>& doubts);

/// A lift at TDC that no known lobe with the card's durations has there, and whether it would fit if it had been read
/// at the lobe, at the valve, or at another advance.
void doubt_tdc_lift(const Lobe& lobe, const Valve& valve, std::vector<Fault>& doubts);

}  // namespace eyebrow::motion
