// The smoothest lift curve near noisy readings.
#pragma once
#include <optional>
#include <vector>

#include "eyebrow/motion.hpp"
#include "motion/least_jerk.hpp"

namespace eyebrow::motion {

struct Smoothed {
  std::vector<LiftKnot> knots;
  double greatest_residual = 0;  ///< of the readings between the ends, mm
};

/// A chain of quintics on even knots from `begin` to `end` with zero lift, velocity and acceleration at both, that
/// rises to one maximum and falls, and leaves no reading between them by more than `reading_error` (> 0). A
/// reading further below zero than that counts as so far below: no lift is negative. The integral of squared jerk is
/// traded against the squared residuals (a smoothing spline; the trade is chosen so that the residuals' mean square is
/// that of an even scatter over the reading error, reading_error^2 / 3), and readings that would be left too far get
/// more weight, until none is. Null when no such curve is found.
std::optional<Smoothed> smoothed(const std::vector<LiftPoint>& readings, double begin, double end,
                                 double reading_error);

/// How often the acceleration turns its sign on the worse flank, each time to more than a small part of its greatest
/// (kWiggle): a clean flank does so once, a ramp may add one or two, noise many.
int flank_wiggles(const std::vector<LiftKnot>& knots);

}  // namespace eyebrow::motion
