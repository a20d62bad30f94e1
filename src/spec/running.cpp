// [running]: what running takes from the gaps, and what is asked of them then.
#include "spec/running.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/nearest.hpp"

namespace eyebrow {
namespace {

const std::vector<std::string> kCauses = {"rod_stretch", "bearings", "growth", "rock",   "gasket",
                                          "guides",      "loft",     "chain",  "pump_up"};

/// Reads the table `key` when it is there.
template <class Cause, class Read>
void read_if_there(Section& running, const std::string& key, std::optional<Cause>& into, Read read) {
  Section section = running.table(key);
  if (!section.exists()) return;
  into = read(section);
  section.finish();
}

/// The two tables under `key`, one a role.
template <class Cause, class Read>
void read_roles(Context& context, Section& running, const Engine& engine, const std::string& key,
                std::optional<Cause>& intake, std::optional<Cause>& exhaust, Read read) {
  Section parent = running.table(key);
  if (!parent.exists()) return;
  bool any = false;
  for (const Role role : {Role::intake, Role::exhaust}) {
    any = any || parent.has(to_string(role));
    Section section = role_table(context, parent, engine, role, "running." + key + ".*");
    if (!section.exists()) continue;
    (role == Role::intake ? intake : exhaust) = read(section, role);
    section.finish();
  }
  parent.finish();
  if (!any)
    context.fault(parent.place(),
                  fmt::format("[{0}] holds one table a role: [{0}.intake], [{0}.exhaust]", parent.path()));
}

void read_running_asked(Context& context, Section& running, Engine& engine) {
  Section asked = running.table("asked", "asked");
  if (!asked.exists()) return;
  for (const Role role : {Role::intake, Role::exhaust}) {
    Section gaps = role_table(context, asked, engine, role, "asked.*");
    if (gaps.exists()) engine.asked.running[role] = read_asked_valve(gaps);
  }
  engine.asked.running_valve_to_valve = asked.number_or("valve_to_valve", 0);
  engine.asked.running_valve_to_bore = asked.number_or("valve_to_bore", 0);
  engine.asked.running_piston_to_head = asked.number_or("piston_to_head", 0);
  asked.finish();
}

/// Lash is stated at the valves; what it gives back is shown and never counted.
void refuse_lash(Context& context, Section& section) {
  section.know("lash");
  if (section.has("lash"))
    context.fault(section.place("lash"),
                  "running.lash has nothing to give: running lash is the lash of each [valve.NAME]; what it gives back "
                  "is shown and never counted");
}

}  // namespace

void read_cause(Section& section, Cause& cause) {
  cause.use = section.flag("use").value_or(true);
  cause.source = section.word("source").value_or("");
}

bool effect_given(Context& context, Section& section, const std::vector<std::string>& effect,
                  const std::vector<std::string>& parts) {
  for (const auto& keys : {effect, parts})
    for (const std::string& key : keys) section.know(key);
  const auto has = [&](const std::string& key) { return section.has(key); };
  const auto stated = std::find_if(effect.begin(), effect.end(), has);
  if (stated == effect.end()) return false;
  const auto beside = std::find_if(parts.begin(), parts.end(), has);
  if (beside != parts.end())
    context.fault(section.place(*beside),
                  fmt::format("{} is of no use beside {}: give the effect itself, or what it is computed from",
                              section.key_path(*beside), *stated));
  return true;
}

Section role_table(Context& context, Section& parent, const Engine& engine, Role role, const std::string& pattern) {
  const std::string key = to_string(role);
  Section section = parent.table(key, pattern);
  const bool present =
      std::any_of(engine.valves.begin(), engine.valves.end(), [&](const Valve& valve) { return valve.role == role; });
  if (section.exists() && !present && !engine.valves.empty())
    context.warn(section.place(), fmt::format("[{}] is not used: no valve is an {}", section.path(), key));
  return section;
}

void read_running(Context& context, Section& top, Engine& engine) {
  Section section = top.table("running");
  if (!section.exists()) return;
  Running running;
  read_if_there(section, "rod_stretch", running.rod_stretch,
                [&](Section& one) { return read_rod_stretch(context, one, engine); });
  read_if_there(section, "bearings", running.bearings, [](Section& one) { return read_bearings(one); });
  read_if_there(section, "growth", running.growth, [&](Section& one) { return read_growth(context, one, engine); });
  read_if_there(section, "rock", running.rock, [&](Section& one) { return read_rock(context, one, engine); });
  read_if_there(section, "gasket", running.gasket,
                [&](Section& one) { return read_thin_gasket(context, one, engine); });
  read_roles(context, section, engine, "guides", running.intake_guides, running.exhaust_guides,
             [&](Section& one, Role role) { return read_guides(context, one, engine, role); });
  read_roles(context, section, engine, "loft", running.intake_loft, running.exhaust_loft,
             [&](Section& one, Role) { return read_loft(context, one); });
  running.slack = read_slack(context, section, engine);
  read_if_there(section, "pump_up", running.pump_up, [&](Section& one) { return read_pump_up(context, one, engine); });
  read_running_asked(context, section, engine);
  refuse_lash(context, section);
  section.finish();
  if (std::none_of(kCauses.begin(), kCauses.end(), [&](const std::string& key) { return section.has(key); }))
    context.warn(
        section.place(),
        fmt::format("[running] states nothing that running takes from the gaps: it may hold {}", joined(kCauses)));
  if (engine.running_lash)
    context.warn(
        context.place_of("check.lash"),
        "[check] lash is \"running\", which gives lash back to the gaps found; the running engine of [running] "
        "is counted at zero lash all the same, and may have less than is found at rest by that as well");
  engine.running = std::move(running);
}

}  // namespace eyebrow
