// Where a table's base circle stands: off zero when the indicator was not zeroed, wandering when the cam runs out.
#pragma once
#include <vector>

#include "motion/least_jerk.hpp"

namespace eyebrow::motion {

struct BaseCircle {
  double level = 0;             ///< mm, to be taken off every reading
  double sine = 0, cosine = 0;  ///< of run-out once a turn of the cam (two of the crank), about the level
  double spread = 0;            ///< the furthest that a reading of the flat part stands from it
  int readings = 0;             ///< that tell it; 0 = the table has no flat part, and its zero is taken as it stands

  /// What the indicator shows there with the valve closed.
  double at(double angle) const;
  /// Half of what once-a-turn run-out moves the indicator by.
  double run_out() const;
};

/// From the readings (rising angles; `full_turn`: all the way round, starting opposite the nose). The flat part lies
/// outside of where the lift passes kFootShare of the greatest, in the half away from the lobe, and is cut back further
/// while it rises toward the lobe, as a long slow ramp does. Its level is the median of its readings: a median stands
/// with single slips. Once-a-turn run-out is recognised only where the flat part spans 60 cam degrees or more, a sine
/// leaves no more than the reading error's scatter, and the level alone leaves half as much again.
BaseCircle base_circle(const std::vector<LiftPoint>& readings, bool full_turn, double reading_error);

}  // namespace eyebrow::motion
