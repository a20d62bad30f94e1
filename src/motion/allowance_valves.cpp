// What lets the valves run early or late, further, or beside their axes.
#include <fmt/format.h>

#include <algorithm>

#include "motion/allowance_causes.hpp"
#include "motion/running_formulas.hpp"
#include "motion/words.hpp"
#include "spec/rocker_ratio.hpp"

namespace eyebrow::motion {
double greatest_lift(const Engine& engine, const Valve& valve) {
  const Lobe* lobe = lobe_of(engine, valve);
  if (!lobe) return 0;
  return lobe->lift * (lobe->measured == LiftAt::lobe ? valve.rocker_ratio : 1);
}

Allowance guide_play(const GuidePlay& from, const Engine& engine, Role role, Allowance blank) {
  Allowance out = std::move(blank);
  double most = 0;
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    const Valve& valve = engine.valves[i];
    if (valve.role != role) continue;
    // The rim leaves the guide as the valve opens: the lever at its longest is taken throughout.
    const double overhang = from.overhang + greatest_lift(engine, valve);
    const GuideEffect effect = from.sideways ? GuideEffect{*from.sideways, from.dip}
                                             : guide_effect(from.play, from.guide_length, overhang, valve.stem_diameter,
                                                            valve.head_diameter / 2);
    out.sideways[i] = effect.sideways;
    out.lift[i] = effect.dip;
    most = std::max(most, overhang);
  }
  if (!from.sideways)
    out.source = fmt::format("computed: play {} over a guide {} long, rim {} below it at full lift",
                             length_text(from.play), length_text(from.guide_length), length_text(most));
  out.note = "the lift is the side of the rim that sinks as the stem leans";
  return out;
}

Allowance loft(const Loft& from, const Engine& engine, Role role, Allowance blank) {
  Allowance out = std::move(blank);
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    if (engine.valves[i].role != role) continue;
    out.late[i] = from.late;
    out.lift[i] = from.lift;
  }
  return out;
}

Allowance drive_slack(const DriveSlack& from, const Engine& engine, const std::string& cam, Allowance blank) {
  Allowance out = std::move(blank);
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    const Lobe* lobe = lobe_of(engine, engine.valves[i]);
    if (!lobe || lobe->cam != cam) continue;
    out.early[i] = from.early;
    out.late[i] = from.late;
  }
  return out;
}

Allowance pump_up(const PumpUp& from, const Engine& engine, Allowance blank) {
  Allowance out = std::move(blank);
  for (std::size_t i = 0; i < engine.valves.size(); ++i)
    // By the steepest part of the rocker's way: the safe side wherever the lifter stands.
    out.lift[i] = from.lift ? *from.lift : from.preload * RockerRatio(engine.valves[i]).greatest_gain().gain;
  if (!from.lift)
    out.source = fmt::format("computed: preload {} at the lifter times the rocker ratio", length_text(from.preload));
  out.note = "a lifter that bleeds down gives gap back: never credited";
  return out;
}

Allowance running_lash(const Engine& engine, Allowance blank) {
  Allowance out = std::move(blank);
  out.on = false;
  out.source = "the lash of each valve in the engine file";
  std::string each;
  for (const Valve& valve : engine.valves)
    each += fmt::format("{}{} {}", each.empty() ? "" : ", ", valve.name, length_text(valve.lash));
  out.note = fmt::format("gives gap back at the valve ({}): not credited", each);
  return out;
}

}  // namespace eyebrow::motion
