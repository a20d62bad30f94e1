#include "study/card_range.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "study/free_least.hpp"
#include "study/piston_gap.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// At the valve: how far apart least and greatest lift are at an angle from the lobe centre.
double width_at(const LobeCurves& curves, double angle, double ratio) {
  if (!curves.band) return 0;
  return ratio * (curves.band->greatest.lift(angle) - curves.band->least.lift(angle));
}

/// The lobe with one more reading, as its middle curve has it, of the lift at overlap TDC with the cam where it is set.
Lobe with_tdc_reading(Lobe lobe, double advance, const LiftCurve& middle) {
  lobe.tdc_advance = advance;
  const double angle = lobe.role == Role::intake ? advance - lobe.centre : lobe.centre + advance;
  lobe.tdc_lift = middle.lift(angle);
  return lobe;
}

}  // namespace

GapRange card_range(const Setup& setup, int valve, GapKind kind, const Minimum& middle, Positions positions) {
  if (!setup.motion.has_card_band(valve) || !middle.gap.measured()) return {};
  Freedom lifts = judged_lifts(setup.engine);
  if (positions == Positions::as_set)
    for (Freedom::OfValve& each : lifts.valves) each.early = each.late = 0;
  Setup free = setup;
  free.motion = setup.motion.with(lifts);
  GapRange range{middle.gap.value, middle.gap.value};
  const FreeLeast least = free_least(free, valve, kind);
  if (least.found) range.least = std::min(range.least, least.value);
  for (const CardEnd end : {CardEnd::least, CardEnd::greatest}) {
    if (kind == GapKind::travel && end == CardEnd::greatest) continue;
    Setup other = setup;
    other.motion = setup.motion.at_card_end(end);
    const Least there = least_over_cycle(PistonGap(other, valve, kind).over_cycle());
    if (there.found) range.greatest = std::max(range.greatest, there.value);
  }
  return range;
}

std::vector<Fault> card_advice(const Setup& setup, const std::vector<ValveResult>& valves) {
  std::vector<Fault> advice;
  std::set<std::string> told;
  const Engine& engine = setup.engine;
  for (std::size_t i = 0; i < valves.size(); ++i) {
    const auto range = valves[i].card.find(GapKind::travel);
    const int number = static_cast<int>(i);
    const Lobe& lobe = *lobe_of(engine, engine.valves[static_cast<std::size_t>(number)]);
    if (range == valves[i].card.end() || lobe.tdc_lift || !told.insert(lobe.name).second) continue;
    const LobeCurves curves = lobe_curves(lobe);
    const Minimum& travel = valves[i].minimum.at(GapKind::travel);
    // The least may be at another position of the cam than the one that is set; there the reading would help most.
    const double set = cam_of(engine, number).advance, advance = travel.advance.value_or(set);
    const double angle = std::remainder(travel.crank + advance - set - setup.motion.lobe_centre(number), 4 * kPi);
    const double at_lobe = curves.middle.lift(angle);
    if (!(travel.lift > 0 && at_lobe > 0)) continue;  // tightest while it is closed
    const double ratio = travel.lift / at_lobe;
    const double now = width_at(curves, angle, ratio);
    const double at_tdc = curves.middle.lift(lobe.role == Role::intake ? advance - lobe.centre : lobe.centre + advance);
    if (!(at_tdc > 0 && at_tdc < lobe.lift)) continue;  // closed there, as is the piston's way then
    if (std::any_of(lobe.durations.begin(), lobe.durations.end(),
                    [&](const Duration& each) { return std::fabs(each.lift - at_tdc) < kKnownThere; }))
      continue;
    const double then = width_at(lobe_curves(with_tdc_reading(lobe, advance, curves.middle)), angle, ratio);
    if (!(now - then > kWorthReading)) continue;
    advice.push_back(
        {"", 0, 0,
         fmt::format("lobe \"{}\": its card leaves {} of lift open where valve \"{}\" is tightest; the lift "
                     "read at TDC{} (lift_at_tdc) would narrow that to {}",
                     lobe.name, length_text(now, engine.units), valves[i].name,
                     travel.advance ? " with its cam in that position" : "", length_text(then, engine.units)),
         "lobe." + lobe.name});
  }
  return advice;
}

}  // namespace eyebrow::study
