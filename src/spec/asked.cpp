// [asked] and [check].
#include <fmt/format.h>

#include <algorithm>

#include "spec/sections.hpp"

namespace eyebrow {

AskedValve read_asked_valve(Section& section) {
  AskedValve asked;
  asked.travel = section.need("travel");
  asked.radial = section.need("radial");
  asked.face = section.number_or("face", asked.travel);
  asked.closest = section.number_or("closest", asked.radial);
  asked.reach = section.number_or("reach", asked.travel);
  section.finish();
  return asked;
}

void read_asked(Context& context, Section& top, Engine& engine) {
  Section section =
      top.need_table("asked", "valve_to_valve, valve_to_bore, piston_to_head, [asked.intake] and [asked.exhaust]");
  engine.asked.valve_to_valve = section.need("valve_to_valve");
  engine.asked.valve_to_bore = section.need("valve_to_bore");
  engine.asked.piston_to_head = section.need("piston_to_head");
  for (const Role role : {Role::intake, Role::exhaust}) {
    const std::string key = to_string(role);
    const bool present =
        std::any_of(engine.valves.begin(), engine.valves.end(), [&](const Valve& valve) { return valve.role == role; });
    Section gaps = present ? section.need_table(key, "travel and radial", "asked.*") : section.table(key, "asked.*");
    if (gaps.exists()) engine.asked.valve[role] = read_asked_valve(gaps);
    if (!present && gaps.exists() && !engine.valves.empty())
      context.warn(gaps.place(), fmt::format("[asked.{0}] is not used: no valve is an {0}", key));
  }
  section.finish();
}

void read_check(Section& top, Engine& engine) {
  Section section = top.table("check");
  engine.running_lash = section.choice<bool>("lash", {{"zero", false}, {"running", true}}).value_or(false);
  section.finish();
}

}  // namespace eyebrow
