#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "motion/least_jerk.hpp"
#include "motion/lift_from.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {
namespace {

constexpr double kCycle = 4 * kPi;  // crank radians

void check(const Lobe& lobe, std::vector<Fault>& faults) {
  check_greatest_lift(lobe, faults);
  if (lobe.durations.size() < 2) {
    add_fault(faults, lobe, "has one duration; at least two, at different checking lifts, are needed");
  }
  for (const Duration& at : lobe.durations) {
    if (!(at.lift >= 0 && std::isfinite(at.lift))) {
      add_fault(faults, lobe, fmt::format("checking lift {} must not be negative", length_text(at.lift)));
    }
    if (!(at.duration > 0 && at.duration < kCycle)) {
      add_fault(faults, lobe,
                fmt::format("duration {} at {} must lie between 0 and 720 deg", angle_text(at.duration),
                            length_text(at.lift)));
    }
    if (at.lift >= lobe.lift) {
      add_fault(faults, lobe,
                fmt::format("checking lift {} must be less than the greatest lift, {}", length_text(at.lift),
                            length_text(lobe.lift)));
    }
  }
  for (std::size_t i = 1; i < lobe.durations.size(); ++i) {
    const Duration &low = lobe.durations[i - 1], &high = lobe.durations[i];
    if (high.lift > low.lift && high.duration < low.duration) continue;
    add_fault(faults, lobe,
              fmt::format("{} at {} does not go with {} at {}: a higher checking lift has a shorter duration",
                          angle_text(high.duration), length_text(high.lift), angle_text(low.duration),
                          length_text(low.lift)));
  }
}

/// Half the duration from closed to closed: where the parabola k (end - x)^2 through the two lowest points is zero. No
/// more than kLongestRamp beyond the lowest point, and no more than halfway from there to the cycle's end.
double ramp_end(const Duration& low, const Duration& high) {
  const double lowest = low.duration / 2;
  if (low.lift == 0) return lowest;
  const double q = std::sqrt(high.lift / low.lift);
  const double ramp = (lowest - high.duration / 2) / (q - 1);
  return lowest + std::min({ramp, kLongestRamp, (kCycle / 2 - lowest) / 2});
}

}  // namespace

std::optional<LiftCurve> lift_from_durations(const Lobe& lobe, std::vector<Fault>& faults) {
  check(lobe, faults);
  if (!faults.empty()) return std::nullopt;

  std::vector<LiftPoint> rise;
  const std::vector<Duration>& durations = lobe.durations;
  if (durations[0].lift > 0) rise.push_back({-ramp_end(durations[0], durations[1]), 0});
  for (const Duration& at : durations) rise.push_back({-at.duration / 2, at.lift});
  std::vector<LiftPoint> points = rise;
  points.push_back({0, lobe.lift});
  for (std::size_t i = rise.size(); i-- > 0;) points.push_back({-rise[i].angle, rise[i].lift});

  std::vector<LiftKnot> knots = least_jerk(points);
  // The system is symmetric, its elimination runs one way: take rounding out.
  for (std::size_t i = 0, j = knots.size() - 1; i <= j; ++i, --j) {
    knots[i].velocity = (knots[i].velocity - knots[j].velocity) / 2;
    knots[j].velocity = -knots[i].velocity;
    knots[i].acceleration = (knots[i].acceleration + knots[j].acceleration) / 2;
    knots[j].acceleration = knots[i].acceleration;
  }
  return LiftCurve(std::move(knots));
}

}  // namespace eyebrow::motion
