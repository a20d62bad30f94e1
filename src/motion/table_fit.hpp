// A lift table's curve, and what was found on the way to it.
#pragma once
#include <optional>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"
#include "motion/base_circle.hpp"
#include "motion/least_jerk.hpp"

namespace eyebrow::motion {

struct TableFit {
  LiftCurve curve;                  ///< in the table's own angle, not recentred
  double centre = 0;                ///< the middle between its flanks, kFlankBelowPeak under the peak
  std::vector<LiftPoint> readings;  ///< in rising order, the base circle taken off
  BaseCircle base;
  double reading_error = 0;  ///< that the curve keeps to: the stated one, or more where the readings scatter by more
};

/// Faults are added to `faults`; null when there are any.
std::optional<TableFit> fit_table(const Lobe& lobe, std::vector<Fault>& faults);

}  // namespace eyebrow::motion
