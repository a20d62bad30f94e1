// A rocker's ratio between the rows of its table.
#pragma once
#include <memory>
#include <vector>

#include "eyebrow/engine.hpp"

namespace eyebrow {

/// Ratio against lobe lift: a cubic between the rows that rises or falls where the rows do (Fritsch and Butland, SIAM
/// J. Sci. Stat. Comput. 5, 1984, as Boost.Math's pchip has it), with one slope where two meet; constant outside, where
/// it begins and ends level. Lifts in mm; what is asked of NaN is NaN.
class RockerRatio {
 public:
  /// The valve's rocker_table; its rocker_ratio all the way where it has none. Throws Error unless a table has two rows
  /// or more with rising lifts.
  explicit RockerRatio(const Valve& valve);
  explicit RockerRatio(const std::vector<RatioAt>& table);

  double ratio(double lobe_lift) const;
  /// d ratio / d lobe lift.
  double slope(double lobe_lift) const;
  double valve_lift(double lobe_lift) const { return lobe_lift * ratio(lobe_lift); }
  /// d valve lift / d lobe lift.
  double gain(double lobe_lift) const { return ratio(lobe_lift) + lobe_lift * slope(lobe_lift); }
  /// The reverse of valve_lift, to rounding; for tables whose gain is above zero throughout.
  double lobe_lift(double valve_lift) const;
  /// A place of the table's where the gain is least or greatest, and the gain there.
  struct Extreme {
    double lift = 0, gain = 0;
  };
  Extreme least_gain() const;
  Extreme greatest_gain() const;

 private:
  struct Curve;  // keeps Boost out of this header
  std::shared_ptr<const Curve> curve_;
  std::vector<RatioAt> table_;
};

}  // namespace eyebrow
