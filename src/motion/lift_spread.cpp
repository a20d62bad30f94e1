#include "motion/lift_spread.hpp"

#include <algorithm>
#include <cmath>

namespace eyebrow::motion {
namespace {

/// How far beside the middle, above zero, in rising order of angle from the nose.
struct Beside {
  double angle, above, below;
};

std::vector<Beside> beside(const LiftCurve& middle, double nose, int way, const FlankSpread& flank) {
  const FittingLobes& fit = flank.fit;
  const double end = way < 0 ? nose - middle.begin() : middle.end() - nose;
  std::vector<Beside> found;
  for (std::size_t j = 0; j < fit.angle.size(); ++j) {
    if (flank.end_stated && fit.angle[j] >= end) break;
    const double lift = middle.lift(nose + way * fit.angle[j]);
    found.push_back({fit.angle[j], std::clamp(fit.greatest[j] - lift, 0.0, middle.peak() - lift),
                     std::clamp(lift - fit.least[j], 0.0, lift)});
  }
  const double step = fit.angle[1] - fit.angle[0];
  found.push_back({flank.end_stated ? end : std::max(found.back().angle, end) + step, 0, 0});
  return found;
}

/// Slope at which, without acceleration, both neighbouring pieces go one way: the lesser of theirs, none where they
/// differ in sign.
double slope(double before, double after) {
  if (before * after <= 0) return 0;
  return std::fabs(before) < std::fabs(after) ? before : after;
}

struct Step {
  double angle, off;  ///< in the curve's own angle; signed
};

/// Between two steps `off` goes one way: the quintic with these slopes and no acceleration at its ends does.
LiftCurve moved(const LiftCurve& middle, const std::vector<Step>& steps) {
  const auto rise = [&](std::size_t i) {
    return (steps[i + 1].off - steps[i].off) / (steps[i + 1].angle - steps[i].angle);
  };
  std::vector<LiftKnot> knots;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double at = steps[i].angle;
    const double lean = i == 0 || i + 1 == steps.size() ? 0 : slope(rise(i - 1), rise(i));
    knots.push_back(
        {at, std::max(0.0, middle.lift(at) + steps[i].off), middle.velocity(at) + lean, middle.acceleration(at)});
  }
  return LiftCurve(std::move(knots));
}

std::vector<Step> steps(double nose, const std::vector<Beside>& opening, const std::vector<Beside>& closing,
                        double Beside::*side, double sign) {
  std::vector<Step> found;
  for (auto at = opening.rbegin(); at != opening.rend(); ++at) found.push_back({nose - at->angle, sign * (*at).*side});
  for (auto at = closing.begin() + 1; at != closing.end(); ++at)
    found.push_back({nose + at->angle, sign * (*at).*side});
  return found;
}

}  // namespace

LiftBand spread_about(const LiftCurve& middle, double nose, const FlankSpread& opening, const FlankSpread& closing) {
  const std::vector<Beside> before = beside(middle, nose, -1, opening), after = beside(middle, nose, 1, closing);
  return {moved(middle, steps(nose, before, after, &Beside::below, -1)),
          moved(middle, steps(nose, before, after, &Beside::above, 1))};
}

}  // namespace eyebrow::motion
