// All causes in one list, stated or not.
#include <utility>

#include "motion/allowance_causes.hpp"

namespace eyebrow {
namespace {

/// A cause without effect, under its name.
Allowance blank(const Engine& engine, std::string name) {
  Allowance out;
  out.name = std::move(name);
  const std::vector<double> none(engine.valves.size(), 0.0);
  out.early = out.late = out.lift = out.sideways = none;
  return out;
}

/// The cause as its function has it, with what all causes share; a row that counts nothing where it is not stated.
template <class From, class Function>
Allowance of_cause(const Engine& engine, std::string name, const From* from, Function effect) {
  Allowance out = blank(engine, std::move(name));
  if (!from) {
    out.stated = out.on = false;
    out.note = "not stated in the engine file: nothing is counted for it";
    return out;
  }
  out = effect(*from, std::move(out));
  out.on = from->use;
  if (out.source.empty()) out.source = "given";
  if (!from->source.empty()) out.source += "; " + from->source;
  return out;
}

template <class From>
const From* pointer(const std::optional<From>& from) {
  return from ? &*from : nullptr;
}

bool has_role(const Engine& engine, Role role) {
  for (const Valve& valve : engine.valves)
    if (valve.role == role) return true;
  return false;
}

}  // namespace

std::vector<Allowance> allowances(const Engine& engine) {
  std::vector<Allowance> all;
  if (!engine.running) return all;
  const Running& running = *engine.running;
  const Cylinder& cylinder = engine.cylinder;
  const auto add = [&](std::string name, const auto* from, auto effect) {
    all.push_back(of_cause(engine, std::move(name), from, effect));
  };
  add("rod stretch", pointer(running.rod_stretch),
      [&](const RodStretch& from, Allowance a) { return motion::rod_stretch(from, cylinder, std::move(a)); });
  add("bearing clearances", pointer(running.bearings),
      [](const BearingPlay& from, Allowance a) { return motion::bearing_play(from, std::move(a)); });
  add("growth with heat", pointer(running.growth),
      [&](const Growth& from, Allowance a) { return motion::growth(from, cylinder, std::move(a)); });
  add("piston rock", pointer(running.rock),
      [&](const Rock& from, Allowance a) { return motion::rock(from, cylinder, std::move(a)); });
  add("thinner gasket", pointer(running.gasket),
      [&](const ThinGasket& from, Allowance a) { return motion::thin_gasket(from, engine.gasket, std::move(a)); });
  for (const Role role : {Role::intake, Role::exhaust}) {
    if (!has_role(engine, role)) continue;
    const bool in = role == Role::intake;
    const std::string of_role = std::string(", ") + to_string(role);
    add("guide play" + of_role, pointer(in ? running.intake_guides : running.exhaust_guides),
        [&](const GuidePlay& from, Allowance a) { return motion::guide_play(from, engine, role, std::move(a)); });
    add("loft" + of_role, pointer(in ? running.intake_loft : running.exhaust_loft),
        [&](const Loft& from, Allowance a) { return motion::loft(from, engine, role, std::move(a)); });
  }
  for (const Cam& cam : engine.cams) {
    const auto found = running.slack.find(cam.name);
    const DriveSlack* slack = found == running.slack.end() ? nullptr : &found->second;
    const std::string name = engine.cams.size() == 1 ? "slack of the cam's drive" : "slack of the drive of " + cam.name;
    add(name, slack,
        [&](const DriveSlack& from, Allowance a) { return motion::drive_slack(from, engine, cam.name, std::move(a)); });
  }
  add("hydraulic lifters pumped up", pointer(running.pump_up),
      [&](const PumpUp& from, Allowance a) { return motion::pump_up(from, engine, std::move(a)); });
  all.push_back(motion::running_lash(engine, blank(engine, "running lash")));
  return all;
}

}  // namespace eyebrow
