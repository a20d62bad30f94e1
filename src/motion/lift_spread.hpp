// The least and the greatest lift curve about a middle one.
#pragma once
#include "eyebrow/motion.hpp"
#include "motion/fitting_lobes.hpp"

namespace eyebrow::motion {

struct FlankSpread {
  const FittingLobes& fit;
  bool end_stated;  ///< closed where the middle curve is, the greatest too
};

/// Through the least and the greatest lifts of the lobes that fit, as what these lie below and above the middle curve
/// (nothing where they lie on its other side): with no slope where they meet it, and one way between two angles, so
/// that least <= middle <= greatest everywhere. `nose`: in the curve's own angle, where the flanks' angles count from.
LiftBand spread_about(const LiftCurve& middle, double nose, const FlankSpread& opening, const FlankSpread& closing);

}  // namespace eyebrow::motion
