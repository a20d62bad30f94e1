#include "motion/card.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "motion/lift_from.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {
namespace {

/// The fault names the key of the engine file that it is about.
void add_fault_at(std::vector<Fault>& faults, const Lobe& lobe, const std::string& key, const std::string& what) {
  add_fault(faults, lobe, what);
  faults.back().key += "." + key;
}

void check_durations(const Lobe& lobe, std::vector<Fault>& faults) {
  check_greatest_lift(lobe, faults);
  for (const Duration& at : lobe.durations) {
    if (!(at.lift >= 0 && std::isfinite(at.lift)))
      add_fault_at(faults, lobe, "durations",
                   fmt::format("checking lift {} must not be negative", length_text(at.lift)));
    if (!(at.duration > 0 && at.duration < kCycle))
      add_fault_at(faults, lobe, "durations",
                   fmt::format("duration {} at {} must lie between 0 and 720 deg", angle_text(at.duration),
                               length_text(at.lift)));
    if (!(std::fabs(at.late) < at.duration / 2))
      add_fault_at(faults, lobe, "durations",
                   fmt::format("at {} the lobe centre does not lie between opening and closing", length_text(at.lift)));
    if (at.lift >= lobe.lift)
      add_fault_at(faults, lobe, "durations",
                   fmt::format("checking lift {} must be less than the greatest lift, {}", length_text(at.lift),
                               length_text(lobe.lift)));
  }
  for (std::size_t i = 1; i < lobe.durations.size(); ++i) {
    const Duration &low = lobe.durations[i - 1], &high = lobe.durations[i];
    if (high.lift > low.lift && high.duration < low.duration) continue;
    add_fault_at(faults, lobe, "durations",
                 fmt::format("{} at {} does not go with {} at {}: a higher checking lift has a shorter duration",
                             angle_text(high.duration), length_text(high.lift), angle_text(low.duration),
                             length_text(low.lift)));
  }
  if (lobe.durations.size() == 1 && lobe.durations[0].lift == 0)
    add_fault_at(faults, lobe, "durations", "has no duration at a checking lift above zero");
  if (lobe.ramp && !(*lobe.ramp > 0 && std::isfinite(*lobe.ramp)))
    add_fault_at(faults, lobe, "ramp_duration",
                 fmt::format("the ramp, {}, must be above zero", angle_text(*lobe.ramp)));
}

/// Where overlap TDC is, from the lobe centre outward: on an intake's opening flank, an exhaust's closing one.
double tdc_angle(const Lobe& lobe) {
  return lobe.role == Role::intake ? lobe.centre - lobe.tdc_advance : lobe.centre + lobe.tdc_advance;
}

std::string told(const LiftPoint& point) {
  return fmt::format("{} at {} from the lobe centre", length_text(point.lift), angle_text(point.angle));
}

void add_tdc(const Lobe& lobe, CardFlank& flank, std::vector<Fault>& faults) {
  const LiftPoint tdc{tdc_angle(lobe), *lobe.tdc_lift};
  if (!(tdc.angle > 0)) {
    add_fault_at(faults, lobe, "lift_at_tdc", "the lift at TDC is of use where the lobe centre does not stand at TDC");
    return;
  }
  if (!(tdc.lift > 0 && tdc.lift < lobe.lift)) {
    add_fault_at(faults, lobe, "lift_at_tdc",
                 fmt::format("the lift at TDC, {}, must lie between zero and the greatest lift, {}",
                             length_text(tdc.lift), length_text(lobe.lift)));
    return;
  }
  auto& points = flank.points;
  const auto after =
      std::find_if(points.begin(), points.end(), [&](const LiftPoint& point) { return point.angle >= tdc.angle; });
  // The same reading once more says nothing new.
  if (after != points.end() && after->angle == tdc.angle && after->lift == tdc.lift) return;
  const LiftPoint* against = nullptr;
  if (after != points.end() && after->lift >= tdc.lift) against = &*after;
  if (after != points.begin() && std::prev(after)->lift <= tdc.lift) against = &*std::prev(after);
  if (against != nullptr) {
    add_fault_at(faults, lobe, "lift_at_tdc",
                 fmt::format("the lift at TDC, {}, does not go with {}: the nearer to the centre, the greater the lift",
                             told(tdc), told(*against)));
    return;
  }
  points.insert(after, tdc);
}

void check_end(const Lobe& lobe, const CardFlank& flank, std::vector<Fault>& faults) {
  if (flank.points.empty() || !(flank.end >= kCycle / 2)) return;  // NaN compares false
  add_fault_at(faults, lobe, "durations",
               fmt::format("is closed {} from its centre only: more than 360 deg of crank", angle_text(flank.end)));
}

}  // namespace

Card card_of(const Lobe& lobe, std::vector<Fault>& faults) {
  check_durations(lobe, faults);
  Card card;
  if (!faults.empty()) return card;
  for (auto at = lobe.durations.rbegin(); at != lobe.durations.rend(); ++at) {
    card.opening.points.push_back({at->duration / 2 - at->late, at->lift});
    card.closing.points.push_back({at->duration / 2 + at->late, at->lift});
    card.symmetric &= at->late == 0;
  }
  for (CardFlank* flank : {&card.opening, &card.closing}) {
    auto& points = flank->points;
    for (std::size_t i = 1; i < points.size(); ++i)
      if (!(points[i].angle > points[i - 1].angle))
        add_fault_at(faults, lobe, "durations",
                     fmt::format("{} does not go with {} on one flank: look at the events and the centre",
                                 told(points[i - 1]), told(points[i])));
    if (points.back().lift == 0) {
      flank->end = points.back().angle;
      points.pop_back();
      if (lobe.ramp)
        add_fault_at(faults, lobe, "ramp_duration", "states a ramp, and where it is closed by a checking lift of 0");
    } else if (lobe.ramp) {
      flank->end = points.back().angle + *lobe.ramp;
    }
  }
  if (faults.empty() && lobe.tdc_lift) {
    const bool opening = lobe.role == Role::intake;
    add_tdc(lobe, opening ? card.opening : card.closing, faults);
    if (card.symmetric && faults.empty()) add_tdc(lobe, opening ? card.closing : card.opening, faults);
  }
  check_end(lobe, card.opening, faults);
  check_end(lobe, card.closing, faults);
  return card;
}

}  // namespace eyebrow::motion
