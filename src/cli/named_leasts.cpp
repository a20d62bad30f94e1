#include "named_leasts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/nearest.hpp"

namespace eyebrow::cli {

std::vector<NamedLeast> leasts_of(const CheckResult& check) {
  std::vector<NamedLeast> out;
  for (std::size_t v = 0; v < check.valves.size(); ++v)
    for (const GapKind kind : kGapKinds) {
      const auto at = check.valves[v].minimum.find(kind);
      if (at != check.valves[v].minimum.end() && at->second.gap.measured())
        out.push_back(
            {gap_name({to_string(kind), check.valves[v].name, 0, false}), static_cast<int>(v), kind, &at->second});
    }
  return out;
}

const NamedLeast* tightest_of(const CheckResult& check, const std::vector<NamedLeast>& leasts) {
  const NamedLeast* chosen = nullptr;
  double least = INFINITY;
  for (const NamedLeast& each : leasts)
    for (const AskedRow& row : check.asked)
      if (!row.running && row.valve == check.valves[static_cast<std::size_t>(each.valve)].name &&
          row.what == to_string(each.kind) && row.margin < least)
        least = row.margin, chosen = &each;
  return chosen;
}

void require_gaps(const std::vector<PlaceInCycle>& places, const Engine& engine) {
  std::vector<std::string> names;
  for (const Valve& valve : engine.valves)
    for (const GapKind kind : kGapKinds) names.push_back(gap_name({to_string(kind), valve.name, 0, false}));
  for (const PlaceInCycle& at : places)
    if (!at.gap.empty() && std::find(names.begin(), names.end(), at.gap) == names.end())
      throw UsageError(fmt::format("--at: there is no gap \"{}\"{}; there are {}", at.gap, did_you_mean(at.gap, names),
                                   fmt::join(names, ", ")));
}

const NamedLeast& named(const std::vector<NamedLeast>& leasts, const std::string& name) {
  for (const NamedLeast& each : leasts)
    if (each.name == name) return each;
  throw UsageError(fmt::format("--at: nowhere in the cycle is there a gap \"{}\"", name));
}

std::shared_ptr<const Engine> engine_at(const std::shared_ptr<const Engine>& engine, const NamedLeast* of) {
  if (of == nullptr || !of->least->advance) return engine;
  auto moved = std::make_shared<Engine>(*engine);
  const Lobe* const lobe = lobe_of(*engine, engine->valves.at(static_cast<std::size_t>(of->valve)));
  for (Cam& cam : moved->cams)
    if (lobe != nullptr && cam.name == lobe->cam) cam.advance = *of->least->advance;
  return moved;
}

}  // namespace eyebrow::cli
