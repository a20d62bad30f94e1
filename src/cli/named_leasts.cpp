#include "named_leasts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "eyebrow/map.hpp"
#include "report/asked.hpp"
#include "spec/nearest.hpp"

namespace eyebrow::cli {
namespace {

/// As leasts_of() calls them, whether there are such gaps or not.
std::vector<std::string> names_of_gaps(const Engine& engine) {
  std::vector<std::string> names;
  for (const MapGap& gap : map_gaps(engine))
    if (!gap.running) names.push_back(gap_name(gap));
  return names;
}

}  // namespace

std::vector<NamedLeast> leasts_of(const CheckResult& check) {
  std::vector<NamedLeast> out;
  for (const AskedRow& row : check.asked) {
    const Minimum* const least = minimum_of(check, row);
    if (row.running || (least == nullptr && row.what != "piston to head")) continue;
    NamedLeast& named = out.emplace_back();
    named.name = gap_name({row.what, row.valve, 0, false});
    named.row = &row;
    std::tie(named.valve, named.other) = valves_of(check, row);
    if (least == nullptr) continue;
    named.crank = least->crank;
    named.advance = least->advance;
    named.advance2 = least->advance2;
  }
  return out;
}

const NamedLeast* tightest_of(const CheckResult& check, const std::vector<NamedLeast>& leasts) {
  const AskedRow* const row = row_to_show(check);
  const auto at = std::ranges::find(leasts, row, &NamedLeast::row);
  return row == nullptr || at == leasts.end() ? nullptr : &*at;
}

void require_gaps(const std::vector<PlaceInCycle>& places, const Engine& engine) {
  const std::vector<std::string> names = names_of_gaps(engine);
  for (const PlaceInCycle& at : places)
    if (!at.gap.empty() && std::find(names.begin(), names.end(), at.gap) == names.end())
      throw UsageError(fmt::format("--at: there is no gap \"{}\"{}", at.gap, there_are(at.gap, names)));
}

const NamedLeast& named(const std::vector<NamedLeast>& leasts, const std::string& name) {
  for (const NamedLeast& each : leasts)
    if (each.name == name) return each;
  throw UsageError(fmt::format("--at: nowhere in the cycle is there a gap \"{}\"", name));
}

std::shared_ptr<const Engine> engine_at(const std::shared_ptr<const Engine>& engine, const NamedLeast* of) {
  if (of == nullptr || (!of->advance && !of->advance2)) return engine;
  auto moved = std::make_shared<Engine>(*engine);
  for (const auto& [valve, advance] : {std::pair{of->valve, of->advance}, {of->other, of->advance2}}) {
    if (valve < 0 || !advance) continue;
    const Lobe* const lobe = lobe_of(*engine, engine->valves.at(static_cast<std::size_t>(valve)));
    for (Cam& cam : moved->cams)
      if (lobe != nullptr && cam.name == lobe->cam) cam.advance = *advance;
  }
  return moved;
}

}  // namespace eyebrow::cli
