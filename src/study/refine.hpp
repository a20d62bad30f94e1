// The least of a gap over every crank angle of a range, proven by bounds, whatever the printed step.
#pragma once
#include <functional>
#include <vector>

#include "eyebrow/vec.hpp"
#include "study/path.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {

/// A stretch of crank angle (radians) and what is known at its ends.
struct Stretch {
  double from = 0, to = 0;
  double at_from = NAN, at_to = NAN;  ///< `low` there; NaN = not asked
};

/// A gap as a function of crank angle.
struct CycleGap {
  std::function<double(double)> value;  ///< NaN = there is none
  std::function<double(double)> low;    ///< least over all displacements within kPoseBall of the pose; infinite = none
  /// Below this `low` cannot fall in the stretch; infinite = there is no gap in it. More than `enough` need not be
  /// told.
  std::function<double(const Stretch&, double enough)> bound;
  bool at_ends = false;                ///< `bound` goes by the ends
  double tolerance = kValueTolerance;  ///< the least is bounded to this
  double from = -2 * kPi, to = 2 * kPi;
  double overlap_share = 0;            ///< or to this part of an overlap, if that is more
  bool span = true;                    ///< is the span of the least asked for?
  std::function<void()> poll = [] {};  ///< called at every step of a search; may throw to end it
};

struct Least {
  bool found = false;  ///< false: there is no such gap at any angle
  double crank = 0;
  double value = NAN;                 ///< at `crank`
  double proven = NAN;                ///< `low` does not fall below this anywhere
  double span_from = 0, span_to = 0;  ///< within kSpanBand of the least, without a break
  /// Where the gap jumps: `crank` is on the lower side, and this is the gap on either side of it. NaN = none there.
  double before = NAN, after = NAN;
};

/// Crank angles -2 pi ... 2 pi: the multiples of `step`, and both ends.
std::vector<double> cycle_grid(double step);

/// Branch and bound over stretches, that with the least bound first, each halved until none can lie lower than the best
/// angle found by more than the tolerance. A stretch of kFinestAngle is not halved: its bound counts, as it does
/// where the gap jumps or begins to exist. Of equal angles the one nearest overlap TDC is told.
Least least_over_cycle(const CycleGap& gap);

/// Is the gap nowhere less than `value`? Where there is none it is not. Quicker than the least: what is proven to be
/// above is not looked into.
bool keeps_above(const CycleGap& gap, double value);

/// Of a plain function, NaN = none: the least of samples a step apart, narrowed like a least gap. No proof, and no
/// span.
Least least_sampled(const std::function<double(double)>& value, double step);

/// What `low` cannot fall below between the ends of a stretch when the gap is the distance between two rigid parts: it
/// is 1-Lipschitz in their relative place, and where they keep apart by at least d it bends down no more than a sphere
/// of radius d does (semiconcavity), so on a straight way it lies at most chord^2 / (8 d) under the line between its
/// ends.
double distance_bound(double a, double b, const Route& route);

}  // namespace eyebrow::study
