#include "window/shown_result.hpp"

#include <algorithm>
#include <cmath>

#include "report/asked.hpp"

namespace eyebrow::window {
namespace {

const std::vector<double>* samples_of(const CheckResult& result, const AskedRow& row) {
  if (row.running) return nullptr;
  for (const ValveResult& valve : result.valves) {
    if (valve.name != row.valve) continue;
    if (row.what == to_string(GapKind::travel)) return &valve.series.travel;
    if (row.what == to_string(GapKind::face)) return &valve.series.face;
    if (row.what == to_string(GapKind::radial)) return &valve.series.radial;
    if (row.what == to_string(GapKind::closest)) return &valve.series.closest;
  }
  return nullptr;
}

/// The number of the lowest sample; none where all are NaN.
std::optional<std::size_t> lowest(const std::vector<double>& samples) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < samples.size(); ++i)
    if (!std::isnan(samples[i]) && (!best || samples[i] < samples[*best])) best = i;
  return best;
}

}  // namespace

ShownResult sampled_result(const Followed& followed) {
  const Engine& engine = *followed.ready.engine();
  CheckResult result;
  result.engine = engine.name;
  result.units = engine.units;
  result.conditions.cylinder = followed.cylinder;
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    ValveResult valve;
    valve.name = engine.valves[i].name;
    valve.role = engine.valves[i].role;
    valve.series = followed.series[i];
    result.valves.push_back(std::move(valve));
  }
  result.asked = followed.ready.rows();
  for (AskedRow& row : result.asked) {
    row.found = row.margin = NAN;
    row.holds = false;
    if (const auto* samples = samples_of(result, row))
      if (const auto at = lowest(*samples)) {
        row.found = (*samples)[*at];
        row.margin = row.found - row.required;
        row.holds = row.margin >= 0;
      }
  }
  return {Certainty::sampled, false, std::make_shared<const CheckResult>(std::move(result)), followed.ready};
}

ShownResult with_rows(const ShownResult& sampled, const JudgedRows& judged) {
  ShownResult out = sampled;
  CheckResult result = *sampled.result;
  result.asked = judged.rows;
  result.verdict = judged.verdict;
  out.result = std::make_shared<const CheckResult>(std::move(result));
  out.certainty = Certainty::judged;
  return out;
}

std::optional<double> crank_of(const CheckResult& result, const AskedRow& row) {
  if (const Minimum* minimum = minimum_of(result, row)) return minimum->crank;
  if (row.what == "piston to head") return 0;
  if (row.running) {
    for (const ValveResult& valve : result.valves)
      for (const auto& [kind, running] : valve.running)
        if (valve.name == row.valve && row.what == to_string(kind) && !std::isnan(running.value)) return running.crank;
    return std::nullopt;
  }
  if (const auto* samples = samples_of(result, row))
    if (const auto at = lowest(*samples))
      for (const ValveResult& valve : result.valves)
        if (valve.name == row.valve) return valve.series.crank[*at];
  return std::nullopt;
}

}  // namespace eyebrow::window
