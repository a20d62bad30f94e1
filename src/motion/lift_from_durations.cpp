#include <algorithm>
#include <cmath>

#include "motion/card.hpp"
#include "motion/fitting_lobes.hpp"
#include "motion/least_jerk.hpp"
#include "motion/lift_from.hpp"
#include "motion/lift_spread.hpp"
#include "motion/tolerances.hpp"

namespace eyebrow::motion {
namespace {

/// A flank as it is drawn, and what its card leaves open: angles from the nose outward.
struct Flank {
  std::vector<LiftPoint> points;  ///< without the nose; the last is closed
  FittingLobes fit;
  bool end_stated = false;
};

/// Where the parabola k (end - x)^2 through two points is zero: no more than kLongestRamp beyond the lower one, and no
/// more than halfway from there to the cycle's end.
double ramp_end(const LiftPoint& high, const LiftPoint& low) {
  const double ramp = (low.angle - high.angle) / (std::sqrt(high.lift / low.lift) - 1);
  return low.angle + std::min({ramp, kLongestRamp, (kCycle / 2 - low.angle) / 2});
}

/// The middle lobe's lifts stand between the card's points, where these are far apart, and below the lowest.
std::vector<LiftPoint> with_middle(const std::vector<LiftPoint>& card, const FittingLobes& fit, double end,
                                   double lift) {
  std::vector<LiftPoint> points = card;
  if (fit.count < kFewestFitting) return points;
  // Where the card says enough its points alone make the smoother curve.
  const auto open = [&](double angle) {
    const auto next =
        std::find_if(card.begin(), card.end(), [&](const LiftPoint& point) { return point.angle > angle; });
    const double before = next == card.begin() ? 0 : std::prev(next)->angle;
    const double after = next == card.end() ? INFINITY : next->angle;
    return after - before > kWideGap && angle - before > kMiddleStep / 2 && after - angle > kMiddleStep / 2;
  };
  // Room is left for the ramp's end within the cycle.
  const double low = card.back().angle, furthest = std::min(end - kMiddleStep, low + (kCycle / 2 - low) / 4);
  double last = 0;
  for (std::size_t j = 1; j < fit.angle.size(); ++j) {
    const LiftPoint middle{fit.angle[j], fit.middle[j]};
    if (middle.angle - last < kMiddleStep || !open(middle.angle)) continue;
    if (middle.angle > low && (middle.lift < kMiddleTail * lift || middle.angle > furthest)) break;
    points.push_back(middle);
    last = middle.angle;
  }
  std::sort(points.begin(), points.end(), [](const LiftPoint& a, const LiftPoint& b) { return a.angle < b.angle; });
  return points;
}

/// `nose`: of the lobe, outward from the centre on this flank.
Flank draw(const CardFlank& card, double nose, double lift) {
  std::vector<LiftPoint> given = card.points;
  for (LiftPoint& point : given) point.angle -= nose;
  Flank flank;
  flank.fit = lobes_that_fit(lift, given);
  flank.end_stated = !std::isnan(card.end);
  flank.points = with_middle(given, flank.fit, flank.end_stated ? card.end - nose : INFINITY, lift);
  const std::size_t n = flank.points.size();
  const LiftPoint high = n > 1 ? flank.points[n - 2] : LiftPoint{0, lift};
  flank.points.push_back({flank.end_stated ? card.end - nose : ramp_end(high, flank.points.back()), 0});
  return flank;
}

/// Half a lobe, from its nose outward: of the smoothest even lobe with this flank.
std::vector<LiftKnot> half_lobe(const Flank& flank, double lift) {
  std::vector<LiftPoint> points;
  for (auto at = flank.points.rbegin(); at != flank.points.rend(); ++at) points.push_back({-at->angle, at->lift});
  points.push_back({0, lift});
  points.insert(points.end(), flank.points.begin(), flank.points.end());
  std::vector<LiftKnot> knots = least_jerk(points);
  // The system is symmetric, its elimination runs one way: take rounding out.
  for (std::size_t i = 0, j = knots.size() - 1; i <= j; ++i, --j) {
    knots[j].velocity = (knots[j].velocity - knots[i].velocity) / 2;
    knots[j].acceleration = (knots[i].acceleration + knots[j].acceleration) / 2;
  }
  return {knots.begin() + static_cast<long>(flank.points.size()), knots.end()};
}

LobeCurves drawn(const Flank& opening, const Flank& closing, double nose, double lift) {
  const std::vector<LiftKnot> before = half_lobe(opening, lift), after = half_lobe(closing, lift);
  std::vector<LiftKnot> knots;
  for (auto at = before.rbegin(); at != before.rend(); ++at)
    knots.push_back({nose - at->angle, at->lift, -at->velocity, at->acceleration});
  knots.back().acceleration = (before.front().acceleration + after.front().acceleration) / 2;
  for (auto at = after.begin() + 1; at != after.end(); ++at)
    knots.push_back({nose + at->angle, at->lift, at->velocity, at->acceleration});
  LobeCurves curves{LiftCurve(std::move(knots)), {}};
  if (opening.fit.count >= kFewestFitting && closing.fit.count >= kFewestFitting)
    curves.band =
        spread_about(curves.middle, nose, {opening.fit, opening.end_stated}, {closing.fit, closing.end_stated});
  return curves;
}

}  // namespace

std::optional<LobeCurves> lift_from_durations(const Lobe& lobe, std::vector<Fault>& faults) {
  const Card card = card_of(lobe, faults);
  if (!faults.empty()) return std::nullopt;
  if (card.symmetric) {
    const Flank flank = draw(card.opening, 0, lobe.lift);
    return drawn(flank, flank, 0, lobe.lift);
  }
  // The nose stands where the middle between the flanks below it is the lobe centre: a few steps of the secant rule.
  const auto with_nose = [&](double nose) {
    return drawn(draw(card.opening, -nose, lobe.lift), draw(card.closing, nose, lobe.lift), nose, lobe.lift);
  };
  const double below = std::min(kFlankBelowPeak, lobe.lift / 4);
  double nose = 0, before = 0, off_before = 0;
  for (int step = 0;; ++step) {
    LobeCurves curves = with_nose(nose);
    const double off = flank_centre(curves.middle, below);
    if (std::fabs(off) < kCentred || step == kMostNoseSteps) return curves;
    const double next = step == 0 ? nose - off : nose - off * (nose - before) / (off - off_before);
    before = nose;
    off_before = off;
    const double room = 0.5 * std::min(card.opening.points.front().angle, card.closing.points.front().angle);
    nose = std::clamp(next, -room, room);
    if (nose == before) return curves;
  }
}

}  // namespace eyebrow::motion
