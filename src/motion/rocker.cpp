#include "motion/rocker.hpp"

#include <algorithm>
#include <cmath>

#include "motion/tolerances.hpp"
#include "spec/rocker_ratio.hpp"

namespace eyebrow::motion {

LiftCurve at_valve(const LiftCurve& lobe, const std::vector<RatioAt>& table) {
  const RockerRatio rocker(table);
  // d2 ratio / d lift2: at a row the mean of both sides.
  const auto bend = [&](double lift) {
    return (rocker.slope(lift + kRatioStep) - rocker.slope(lift - kRatioStep)) / (2 * kRatioStep);
  };
  const auto carried = [&](double angle, double lift, double velocity, double acceleration) {
    const double slope = rocker.slope(lift), gain = rocker.gain(lift);
    return LiftKnot{angle, rocker.valve_lift(lift), gain * velocity,
                    gain * acceleration + (2 * slope + lift * bend(lift)) * velocity * velocity};
  };
  std::vector<LiftKnot> knots;
  const std::vector<LiftKnot>& from = lobe.knots();
  for (std::size_t i = 0; i < from.size(); ++i) {
    knots.push_back(carried(from[i].angle, from[i].lift, from[i].velocity, from[i].acceleration));
    if (i + 1 == from.size()) break;
    const double width = from[i + 1].angle - from[i].angle;
    const int pieces = std::max(1, static_cast<int>(std::ceil(width / kRockerPiece)));
    for (int k = 1; k < pieces; ++k) {
      const double angle = from[i].angle + width * k / pieces;
      knots.push_back(carried(angle, lobe.lift(angle), lobe.velocity(angle), lobe.acceleration(angle)));
    }
  }
  return LiftCurve(std::move(knots));
}

}  // namespace eyebrow::motion
