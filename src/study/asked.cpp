#include "study/asked.hpp"

#include <algorithm>

namespace eyebrow {

const char* to_string(Verdict verdict) {
  switch (verdict) {
    case Verdict::holds:
      return "holds";
    case Verdict::short_:
      return "short";
    case Verdict::contact:
      return "contact";
  }
  return "?";
}

namespace study {
namespace {

/// Exactly: a gap that prints like the asked one but is less by a hair is short.
AskedRow row(std::string what, std::string valve, double required, double found) {
  return {std::move(what), std::move(valve), required, found, found - required, found >= required, {}};
}

void add_valve_rows(const AskedValve& asked, const ValveResult& valve, std::vector<AskedRow>& rows) {
  const auto value = [&](GapKind kind) { return valve.minimum.at(kind).gap.value; };
  AskedRow travel = row("travel", valve.name, asked.travel, value(GapKind::travel));
  AskedRow face = row("face", valve.name, asked.face, value(GapKind::face));
  AskedRow radial = row("radial", valve.name, asked.radial, value(GapKind::radial));
  AskedRow closest = row("closest", valve.name, asked.closest, value(GapKind::closest));
  // A gap that does not exist satisfies nothing by itself: another one has to.
  if (!valve.minimum.at(GapKind::travel).gap.measured()) {
    travel.note = "never meets the piston along its axis: look at the valve's place and tilt";
  }
  if (!valve.minimum.at(GapKind::face).gap.measured()) {
    face.holds = travel.holds;
    face.note = "no line square to the crown meets the valve: the travel holds this";
  }
  if (!valve.minimum.at(GapKind::radial).gap.measured()) {
    radial.holds = closest.holds;
    radial.note = "not in reach: the closest gap holds this";
  }
  rows.insert(rows.end(), {travel, face, radial, closest});
}

}  // namespace

std::vector<AskedRow> asked_rows(const Engine& engine, const CheckResult& result) {
  std::vector<AskedRow> rows;
  for (const ValveResult& valve : result.valves) add_valve_rows(engine.asked.valve.at(valve.role), valve, rows);
  for (const PairResult& pair : result.pairs)
    rows.push_back(
        row("valve to valve", pair.first + " / " + pair.second, engine.asked.valve_to_valve, pair.minimum.gap.value));
  for (const ValveResult& valve : result.valves)
    rows.push_back(row("valve to bore", valve.name, engine.asked.valve_to_bore, valve.bore.gap.value));
  rows.push_back(row("piston to head", "", engine.asked.piston_to_head, result.piston_to_head));
  rows.back().note = result.piston_to_head_checked;
  return rows;
}

Verdict verdict_of(const CheckResult& result) {
  bool contact = result.piston_to_head <= 0;
  for (const ValveResult& valve : result.valves) {
    for (GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest})
      contact |= valve.minimum.at(kind).gap.value < 0;
    contact |= valve.bore.gap.value < 0;
  }
  for (const PairResult& pair : result.pairs) contact |= pair.minimum.gap.value < 0;
  if (contact) return Verdict::contact;
  return std::ranges::all_of(result.asked, &AskedRow::holds) ? Verdict::holds : Verdict::short_;
}

}  // namespace study
}  // namespace eyebrow
