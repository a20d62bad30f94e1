// [running.guides], .loft, .chain and .pump_up.
#include <fmt/format.h>

#include <algorithm>

#include "spec/nearest.hpp"
#include "spec/running.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// Of the stem's diameter: beyond wear limits (published, army technical manual TM 9-4310-397-14: 0.006 in on a stem of
/// 0.37, that is 0.016; by rocking the stem, up to three times that is read).
constexpr double kMostGuidePlay = 0.06;
/// Guides are 5 to 8 stems long (common practice).
constexpr double kLeastGuide = 2;

void judge_guide(Context& context, const Section& section, const GuidePlay& guides, const Engine& engine, Role role) {
  const auto text = [&](double mm) { return context.length_text(mm); };
  for (const Valve& valve : engine.valves) {
    if (valve.role != role) continue;
    const double least = kLeastGuide * valve.stem_diameter, most = kMostGuidePlay * valve.stem_diameter;
    const std::string beside =
        fmt::format("allowed beside the stem of valve \"{}\", {}, is", valve.name, text(valve.stem_diameter));
    const bool is_short = guides.guide_length<least, is_loose = guides.play> most;
    if (is_short)
      context.fault(section.place("guide_length"),
                    fmt::format("{} is {}; {} {} and more: guides are 5 to 8 stems long (common practice)",
                                section.key_path("guide_length"), text(guides.guide_length), beside, text(least)));
    if (is_loose)
      context.fault(section.place("play"),
                    fmt::format("{} is {}; {} to {}: an indicator on a rocked stem shows about twice the play",
                                section.key_path("play"), text(guides.play), beside, text(most)));
    if (is_short || is_loose) return;  // one valve tells
  }
}
DriveSlack read_one_slack(Section& section) {
  DriveSlack out;
  read_cause(section, out);
  out.late = section.need("late");
  out.early = section.number_or("early", 0);
  section.finish();
  return out;
}

}  // namespace

GuidePlay read_guides(Context& context, Section& section, const Engine& engine, Role role) {
  GuidePlay out;
  read_cause(section, out);
  if (effect_given(context, section, {"sideways", "dip"}, {"play", "guide_length", "overhang"})) {
    out.sideways = section.need("sideways");
    out.dip = section.need("dip");
    return out;
  }
  out.play = section.need("play", "sideways and dip");
  out.guide_length = section.need("guide_length");
  out.overhang = section.need("overhang");
  judge_guide(context, section, out, engine, role);
  return out;
}

Loft read_loft(Context& context, Section& section) {
  Loft out;
  read_cause(section, out);
  out.late = section.number_or("late", 0);
  out.lift = section.number_or("lift", 0);
  if (!section.has("late") && !section.has("lift"))
    context.fault(section.place(), fmt::format("[{}] needs late, lift or both", section.path()));
  return out;
}

std::map<std::string, DriveSlack> read_slack(Context& context, Section& running, const Engine& engine) {
  std::map<std::string, DriveSlack> out;
  Section one = running.table("chain", "running.chain.*");
  if (!one.exists()) return out;
  const auto names = cam_names(engine);
  if (!one.holds_tables()) {
    const DriveSlack slack = read_one_slack(one);
    for (const std::string& name : names) out[name] = slack;
    return out;
  }
  bool all_known = true;
  for (Section section : running.named("chain", kMostCams)) {
    const bool known = names.empty() || std::find(names.begin(), names.end(), section.name()) != names.end();
    all_known = all_known && known;
    if (!known)
      context.fault(section.place(), fmt::format("[{}]: there is no cam \"{}\"{}", section.path(), section.name(),
                                                 did_you_mean(section.name(), names)));
    out[section.name()] = read_one_slack(section);
  }
  for (const std::string& name : names)
    if (all_known && out.count(name) == 0)
      context.fault(one.place(),
                    fmt::format("[{0}] leaves out the cam \"{1}\": give [{0}.{1}] too, or one late for all "
                                "cams in [{0}]",
                                one.path(), name));
  return out;
}

PumpUp read_pump_up(Context& context, Section& section, const Engine& engine) {
  PumpUp out;
  read_cause(section, out);
  if (effect_given(context, section, {"lift"}, {"preload"})) {
    out.lift = section.number("lift");
    return out;
  }
  out.preload = section.need("preload", "lift");
  for (const Valve& valve : engine.valves) {
    const std::string key = "valve." + valve.name + ".rocker_ratio";
    const bool stated = context.given(key) || !valve.rocker_table.empty();
    if (!stated && !std::isnan(valve.rocker_ratio))  // NaN: told already
      context.fault(section.place(),
                    fmt::format("[{}] needs {}, to carry the preload to the valve (1 = direct), or lift "
                                "in place of preload",
                                section.path(), key));
  }
  return out;
}

}  // namespace eyebrow
