#include "spec/rocker.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/rocker_ratio.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kLeastItems = 2, kMostItems = 20;

/// Empty when it is faulty, and told.
std::vector<RatioAt> read_table(Context& context, Section& section) {
  std::vector<RatioAt> table;
  std::vector<std::string> paths;
  const std::size_t told = context.faults.size();
  for (Section& item : section.list("rocker_table")) {
    table.push_back({item.need("lift"), item.need("ratio")});
    paths.push_back(item.path());
    item.finish();
  }
  const std::string key = section.key_path("rocker_table");
  if (table.empty() && context.faults.size() > told) return {};  // no list at all
  if (table.size() < kLeastItems || table.size() > kMostItems) {
    context.fault(section.place("rocker_table"),
                  fmt::format("{} has {} {}; allowed are {} to {}", key, table.size(),
                              table.size() == 1 ? "item" : "items", kLeastItems, kMostItems));
    return {};
  }
  bool good = true;
  for (std::size_t i = 0; i < table.size(); ++i) {
    if (!std::isfinite(table[i].lift) || !std::isfinite(table[i].ratio)) good = false;  // told already
    if (i == 0 || !(table[i].lift <= table[i - 1].lift)) continue;
    good = false;
    context.fault(context.place_of(paths[i] + ".lift"),
                  fmt::format("{}.lift is {}, after {}; the rows go up in lobe lift", paths[i],
                              context.length_text(table[i].lift), context.length_text(table[i - 1].lift)));
  }
  if (!good) return {};
  if (const auto least = RockerRatio(table).least_gain(); !(least.gain > 0)) {
    std::size_t row = 1;
    while (row + 1 < table.size() && table[row].lift < least.lift) ++row;
    context.fault(context.place_of(paths[row] + ".ratio"),
                  fmt::format("{}: by its rows from {} to {} of lobe lift the valve goes back while the lobe lifts on; "
                              "ratio is valve lift over lobe lift, the whole way from closed",
                              key, context.length_text(table[row - 1].lift), context.length_text(table[row].lift)));
    return {};
  }
  return table;
}

}  // namespace

void read_rocker(Context& context, Section& section, bool needed, Valve& valve) {
  if (!section.has("rocker_table")) {
    section.know("rocker_table");
    valve.rocker_ratio = needed ? section.need("rocker_ratio", "rocker_table") : section.number_or("rocker_ratio", 1);
    return;
  }
  if (section.number("rocker_ratio"))
    context.fault(section.place("rocker_ratio"),
                  fmt::format("{} is given, and {} too: leave one of the two out", section.key_path("rocker_ratio"),
                              section.key_path("rocker_table")));
  valve.rocker_table = read_table(context, section);
  valve.rocker_ratio = valve.rocker_table.empty() ? NAN : valve.rocker_table.back().ratio;
}

void settle_rockers(Engine& engine) {
  for (Valve& valve : engine.valves) {
    if (valve.rocker_table.empty()) continue;
    const RockerRatio rocker(valve);
    for (const Lobe& lobe : engine.lobes)
      if (lobe.name == valve.lobe)
        valve.rocker_ratio = rocker.ratio(lobe.measured == LiftAt::lobe ? lobe.lift : rocker.lobe_lift(lobe.lift));
  }
}

}  // namespace eyebrow
