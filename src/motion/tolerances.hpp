// Every tolerance and choice of the motion module, with why that number.
#pragma once
#include "eyebrow/vec.hpp"

namespace eyebrow::motion {

/// Speed bounds are raised by this part, so that rounding in the evaluation cannot pass them (it is near 1e-14).
inline constexpr double kBoundSlack = 1e-9;

/// Halvings of a piece when its velocity is bounded from control values: the excess of the bound falls four times with
/// each, and is some 1e-3 of the bound here.
inline constexpr int kBoundHalvings = 4;

/// Halvings before a piece that cannot be shown to rise (or fall) all the way is taken not to.
inline constexpr int kProofHalvings = 8;

/// A piece counts as rising when its velocity is above minus this part of the curve's mean speed: rounding, no more.
inline constexpr double kFlat = 1e-12;

/// The ramp below the lowest checking lift is taken no longer than this, crank radians. Ramps of the trade end well
/// within it; the extrapolation is longer only when it starts from lifts high on the flank, where it knows nothing.
inline constexpr double kLongestRamp = 60 * kDegree;

/// Where a lobe's flanks are compared to find its centre: 0.050 in below the peak, the trade's habit.
inline constexpr double kFlankBelowPeak = 0.050 * kInch;

/// A reading may go back by this much (mm) on a flank and still be reading noise: a little under 0.001 in, one
/// division of the usual indicator. More is a second maximum, and is refused.
inline constexpr double kReadingNoise = 0.020;

/// Widest step between readings off the base circle, crank radians: readings every 5 cam degrees take half of it.
inline constexpr double kWidestStep = 20 * kDegree;

/// Pieces a flank that stand for a cam law: a multiple of 8, as the modified laws have their joints at eighths. Six
/// exact derivatives a piece leave an error below 1e-12 of the lift.
inline constexpr int kLawPieces = 128;

}  // namespace eyebrow::motion
