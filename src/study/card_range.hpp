// What a cam card leaves open of a least gap, and what would settle it.
#pragma once
#include "eyebrow/check.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

enum class Positions { as_set, all };

/// Between the least gap over every lobe that has the same card (and, if asked for, every position of a cam with stops)
/// and the greatest that it may be at the setup's cam position. NaN where there is none, or the curve is known.
/// `least` is proven as low as can be (free_least). `greatest` is the greater of the leasts that the band's two ends
/// and its middle have: exact for travel, which falls as the lift rises.
GapRange card_range(const Setup& setup, int valve, GapKind kind, const Minimum& middle, Positions positions);

/// One sentence for each lobe with a band: which reading would narrow it most, and to what. Lengths in the engine's
/// unit.
std::vector<Fault> card_advice(const Setup& setup, const std::vector<ValveResult>& valves);

}  // namespace eyebrow::study
