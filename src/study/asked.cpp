#include "study/asked.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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

std::string gap_name(const MapGap& gap) {
  const char* const running = gap.running ? ".running" : "";
  if (gap.what == "piston to head") return fmt::format("piston.head{}", running);
  if (gap.what == "valve to bore") return fmt::format("{}.bore{}", gap.valve, running);
  const auto between = gap.valve.find(" / ");
  if (gap.what != "valve to valve" || between == std::string::npos)
    return fmt::format("{}.{}{}", gap.valve, gap.what, running);
  return fmt::format("{}/{}{}", gap.valve.substr(0, between), gap.valve.substr(between + 3), running);
}

namespace study {
namespace {

/// Exactly, but for the rounding of sums (0.041 in less 0.001 in is 0.040 in): a gap that prints like the asked one but
/// is less by a hair is short.
AskedRow row(std::string what, std::string valve, double required, double found) {
  AskedRow made;
  made.what = std::move(what);
  made.valve = std::move(valve);
  made.required = required;
  made.found = found;
  made.margin = std::fabs(found - required) < kAsAsked ? 0 : found - required;
  made.holds = made.margin >= 0;
  return made;
}

/// Where the lobe's card leaves the gap open, what it may be at the least is judged.
AskedRow valve_row(GapKind kind, const ValveResult& valve, double required) {
  const double middle = valve.minimum.at(kind).gap.value;
  const auto open = valve.card.find(kind);
  if (open == valve.card.end()) return row(to_string(kind), valve.name, required, middle);
  AskedRow made = row(to_string(kind), valve.name, required, open->second.least);
  made.middle = middle;
  return made;
}

/// What is asked of the running engine; where nothing is, that nothing touches (and the row is left out unless it
/// does).
void add_running_rows(const Asked& asked, const ValveResult& valve, RunningRows which, std::vector<AskedRow>& rows) {
  const auto own = asked.running.find(valve.role);
  for (const auto& [kind, found] : valve.running) {
    const double required = own == asked.running.end() ? 0 : asked_of(own->second, kind);
    const bool none = std::isnan(found.value);  // the bench's row says why
    if (none && which == RunningRows::told) continue;
    const bool asked_for = own != asked.running.end();
    AskedRow made = row(to_string(kind), valve.name, required, found.value);
    made.running = true;
    made.holds |= none || (kind == GapKind::radial && !asked_for);
    if (asked_for || !made.holds || which == RunningRows::all) rows.push_back(made);
  }
}

/// Of the gaps that no valve has alone: a row of its own where something is asked or it does not hold.
void add_running_row(std::string what, std::string valve, double required, double found, RunningRows which,
                     std::vector<AskedRow>& rows) {
  if (std::isnan(found)) return;
  AskedRow made = row(std::move(what), std::move(valve), required, found);
  made.running = true;
  if (required > 0 || !made.holds || which == RunningRows::all) rows.push_back(made);
}

void add_valve_rows(const AskedValve& asked, const ValveResult& valve, std::vector<AskedRow>& rows) {
  AskedRow travel = valve_row(GapKind::travel, valve, asked.travel);
  AskedRow face = valve_row(GapKind::face, valve, asked.face);
  AskedRow radial = valve_row(GapKind::radial, valve, asked.radial);
  AskedRow closest = valve_row(GapKind::closest, valve, asked.closest);
  // A gap that does not exist satisfies nothing by itself: another one has to.
  if (!valve.minimum.at(GapKind::travel).gap.measured()) {
    travel.note = "never meets the piston along its axis: look at the valve's place and tilt";
  }
  if (!valve.minimum.at(GapKind::face).gap.measured()) {
    face.holds = travel.holds;
    face.note = travel.holds ? "no line square to the crown meets the valve: the travel holds this"
                             : "no line square to the crown meets the valve: the travel decides, and it does not hold";
  }
  if (!valve.minimum.at(GapKind::radial).gap.measured()) {
    radial.holds = closest.holds;
    radial.note = closest.holds ? "not in reach: the closest gap holds this"
                                : "not in reach: the closest gap decides, and it does not hold";
  }
  rows.insert(rows.end(), {travel, face, radial, closest});
}

}  // namespace

double asked_of(const AskedValve& asked, GapKind kind) {
  return kind == GapKind::travel   ? asked.travel
         : kind == GapKind::face   ? asked.face
         : kind == GapKind::radial ? asked.radial
                                   : asked.closest;
}

double judged(const ValveResult& valve, GapKind kind) {
  const auto open = valve.card.find(kind);
  return open == valve.card.end() ? valve.minimum.at(kind).gap.value : open->second.least;
}

std::vector<AskedRow> asked_rows(const Engine& engine, const CheckResult& result, RunningRows running) {
  std::vector<AskedRow> rows;
  for (const ValveResult& valve : result.valves) add_valve_rows(engine.asked.valve.at(valve.role), valve, rows);
  for (const PairResult& pair : result.pairs)
    rows.push_back(
        row("valve to valve", pair.first + " / " + pair.second, engine.asked.valve_to_valve, pair.minimum.gap.value));
  for (const ValveResult& valve : result.valves)
    rows.push_back(row("valve to bore", valve.name, engine.asked.valve_to_bore, valve.bore.gap.value));
  rows.push_back(row("piston to head", "", engine.asked.piston_to_head, result.piston_to_head));
  rows.back().note = result.piston_to_head_checked;
  for (const ValveResult& valve : result.valves) add_running_rows(engine.asked, valve, running, rows);
  for (const PairResult& pair : result.pairs)
    add_running_row("valve to valve", pair.first + " / " + pair.second, engine.asked.running_valve_to_valve,
                    pair.running, running, rows);
  for (const ValveResult& valve : result.valves)
    add_running_row("valve to bore", valve.name, engine.asked.running_valve_to_bore, valve.bore_running, running, rows);
  add_running_row("piston to head", "", engine.asked.running_piston_to_head, result.piston_to_head_running, running,
                  rows);
  return rows;
}

Verdict verdict_of(const CheckResult& result) {
  bool contact = result.piston_to_head <= 0 || result.piston_to_head_running <= 0;
  for (const ValveResult& valve : result.valves) {
    for (GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest}) contact |= judged(valve, kind) < 0;
    contact |= valve.bore.gap.value < 0 || valve.bore_running < 0;
    for (const auto& [kind, running] : valve.running) contact |= kind != GapKind::radial && running.value < 0;
  }
  for (const PairResult& pair : result.pairs) contact |= pair.minimum.gap.value < 0 || pair.running < 0;
  if (contact) return Verdict::contact;
  return std::ranges::all_of(result.asked, &AskedRow::holds) ? Verdict::holds : Verdict::short_;
}

}  // namespace study
}  // namespace eyebrow
