// All bounds are common practice.
#include "motion/card_doubts.hpp"

#include <fmt/format.h>

#include <cmath>

#include "eyebrow/motion.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {
namespace {

/// Valves lift by 0.22 to 0.35 of their head's diameter, stock ones of pushrod engines down to 0.20, and there lobes of
/// racing cams begin: nearer together the head's diameter cannot tell one from the other. The small exhaust valves of
/// racing engines go to 0.44.
constexpr double kLeastLiftShare = 0.20, kUsualLiftShare = 0.22, kMostLiftShare = 0.45;
/// A rocker that makes lobe and valve lift worth telling apart.
constexpr double kRocker = 1.2;
/// A lift at TDC is read to a few hundredths of a mm, with TDC found to half a degree; besides, 1 lobe in 100 lies
/// outside of what the known ones have (see LobeCurves).
constexpr double kReadToLift = 0.05, kReadToAngle = 0.5 * kDegree;

/// Least and greatest lift that the durations leave open about an angle.
struct Span {
  double low = 0, high = 0;
  bool holds(double lift) const { return lift >= low && lift <= high; }
};

Span span_at(const LiftBand& band, double angle) {
  Span span{INFINITY, 0};
  for (const double at : {angle - kReadToAngle, angle, angle + kReadToAngle}) {
    span.low = std::fmin(span.low, band.least.lift(at));
    span.high = std::fmax(span.high, band.greatest.lift(at));
  }
  return {span.low - kReadToLift, span.high + kReadToLift};
}

}  // namespace

void doubt_side(const Lobe& lobe, const Valve& valve, double peak, std::vector<Fault>& doubts) {
  if (lobe.law || !(valve.head_diameter > 0 && valve.rocker_ratio >= kRocker)) return;
  const double as_read = peak / valve.head_diameter, times = as_read * valve.rocker_ratio;
  const bool small = lobe.measured == LiftAt::valve && as_read < kLeastLiftShare && times >= kUsualLiftShare;
  const bool great = lobe.measured == LiftAt::lobe && times > kMostLiftShare && as_read >= kLeastLiftShare;
  if (!small && !great) return;
  doubt(
      doubts, lobe, "measured",
      fmt::format("lobe.{}: a lift of {} measured at the {} lifts valve \"{}\" by {:.2f} of its head's diameter; usual "
                  "are 0.22 to 0.35 (common practice), and it would be {:.2f} if it was measured at the {}: check "
                  "measured, and the rocker ratio, {:g}",
                  lobe.name, length_text(peak), small ? "valve" : "lobe", valve.name, small ? as_read : times,
                  small ? times : as_read, small ? "lobe" : "valve", valve.rocker_ratio));
}

void doubt_tdc_lift(const Lobe& lobe, const Valve& valve, std::vector<Fault>& doubts) {
  if (!lobe.tdc_lift || lobe.durations.empty()) return;
  Lobe without = lobe;
  without.tdc_lift.reset();
  const LobeCurves curves = lobe_curves(without);
  if (!curves.band) return;
  // In the curve's angle, from the lobe centre: before it for an intake.
  const auto tdc = [&](double advance) {
    return lobe.role == Role::intake ? advance - lobe.centre : lobe.centre + advance;
  };
  const Span span = span_at(*curves.band, tdc(lobe.tdc_advance));
  if (span.high < lobe.durations.front().lift || span.holds(*lobe.tdc_lift)) return;  // ramps are anyone's guess
  const double ratio = lobe.measured == LiftAt::lobe ? 1 / valve.rocker_ratio : valve.rocker_ratio;
  std::string likely;
  if (ratio != 1 && span.holds(*lobe.tdc_lift * ratio))
    likely = fmt::format("; it would fit if it was read at the {}, as {} there", ratio < 1 ? "valve" : "lobe",
                         length_text(*lobe.tdc_lift * ratio));
  else if (lobe.tdc_advance != 0 && span_at(*curves.band, tdc(-lobe.tdc_advance)).holds(*lobe.tdc_lift))
    likely = "; it would fit with the other sign of tdc_advance";
  doubt(doubts, lobe, "lift_at_tdc",
        fmt::format("lobe.{}: the lift at TDC, {}, is not what lobes with its durations have there, {} to {}{}: check "
                    "where it was read, that the lash was taken up, and the cam's advance when it was read, {}",
                    lobe.name, length_text(*lobe.tdc_lift), length_text(std::fmax(0, span.low)), length_text(span.high),
                    likely, angle_text(lobe.tdc_advance)));
}

}  // namespace eyebrow::motion
