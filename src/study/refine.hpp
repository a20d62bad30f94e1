// The least of a gap over the whole cycle, whatever the step that it was sampled with.
#pragma once
#include <functional>
#include <vector>

#include "eyebrow/vec.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {

/// A gap at a crank angle (radians); NaN = there is none.
struct CyclePoint {
  double crank = 0, value = NAN;
};

/// A gap as a function of crank angle, and the relative place of its two parts (mm), which says how far they move.
struct CyclePath {
  std::function<double(double)> value;
  std::function<Vec3(double)> place;
  bool distance = false;               ///< the gap is the distance between the two parts: its least is then proven
  double tolerance = kValueTolerance;  ///< the least may be missed by this much
};

struct Least {
  bool found = false;  ///< false: NaN everywhere
  double crank = 0, value = NAN;
  double span_from = 0, span_to = 0;  ///< within kSpanBand of the least, without a break
};

/// Crank angles -2 pi ... 2 pi: the multiples of `step`, and both ends.
std::vector<double> cycle_grid(double step);

/// Adaptive subdivision. A stretch between two known angles is split while it could hide a lower value. For a distance
/// that follows from how far the parts travel in it (a proof, down to kSmoothAngle, while they are apart). Other gaps
/// can jump: while a stretch is wide it is judged by the way travelled and by the slopes of its neighbourhood, when it
/// is narrow by the slopes alone. Jumps and the ends of ranges where there is no gap are steep by nature and get split
/// to kFinestAngle, so no second method is needed for them. `points` in rising order; they cost nothing again, and the
/// search keeps to their range.
Least least_over_cycle(const CyclePath& path, std::vector<CyclePoint> points);

}  // namespace eyebrow::study
