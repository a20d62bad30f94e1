// One kind of gap between a valve and the piston, as a function of crank angle with its bounds over stretches.
#pragma once
#include "study/refine.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// A request for one kind alone.
GapRequest request_for(GapKind kind, double reach, bool bounds);

/// Infinite where there is no such gap.
double low_or_none(const Gap& gap);

/// Not for several threads at once: it counts its queries.
class PistonGap {
 public:
  PistonGap(const Setup& setup, int valve, GapKind kind);

  /// NaN = none.
  double value(double crank) const;
  /// Least over all displacements within kPoseBall; infinite = none.
  double low(double crank) const;
  /// Below this `low` cannot fall between two angles; infinite = no such gap there.
  double bound(const Stretch& stretch, double enough) const;

  /// Over a range of crank angle. Lives no longer than this.
  CycleGap over(double from, double to) const;
  CycleGap over_cycle() const { return over(-2 * kPi, 2 * kPi); }

  /// How many times the kernel was asked.
  long queries() const { return queries_; }

  /// What the gap cannot fall below while height + cos(tilt) lift is no more than `approach`; negative infinity = that
  /// says nothing.
  double from_heights(double approach) const;

 private:
  const Setup& setup_;
  const ValveSetup& of_;
  int valve_;
  GapKind kind_;
  double lowest_ = 0;  ///< of the closed valve, above the highest of the crown when its flat is at 0
  mutable long queries_ = 0;
};

}  // namespace eyebrow::study
