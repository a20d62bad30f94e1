// Lifts of one card that were measured partly at the lobe, partly at the valve.
#include <fmt/format.h>

#include <algorithm>

#include "spec/card.hpp"
#include "spec/nearest.hpp"
#include "spec/rocker_ratio.hpp"

namespace eyebrow {
namespace {

/// The one rocker between lobe and valves. Null when there is none that is known, and told.
std::optional<RockerRatio> rocker_of(Context& context, const Engine& engine, const Lobe& lobe, const Place& place) {
  const std::string needs = fmt::format(
      "[lobe.{}] has lifts measured at the lobe and at the valve: to carry them from "
      "one to the other it needs the rocker ratio of a valve that it moves",
      lobe.name);
  std::vector<std::string> all;
  const Valve* first = nullptr;
  bool told = false;
  for (const Valve& valve : engine.valves) {
    if (valve.lobe != lobe.name) continue;
    all.push_back(valve.name);
    if (std::isnan(valve.rocker_ratio)) told = true;
    const bool stated = !valve.rocker_table.empty() || context.given("valve." + valve.name + ".rocker_ratio");
    if (told || !stated) continue;
    if (!first) {
      first = &valve;
    } else if (first->rocker_ratio != valve.rocker_ratio || first->rocker_table != valve.rocker_table) {
      context.fault(place, fmt::format("{}, and valves \"{}\" and \"{}\" have two that differ: state all lifts where "
                                       "measured says",
                                       needs, first->name, valve.name));
      return std::nullopt;
    }
  }
  if (told) return std::nullopt;
  if (first) return RockerRatio(*first);
  context.fault(place, all.empty() ? fmt::format("{}; it moves none", needs)
                                   : fmt::format("{}: state rocker_ratio in [valve.{}] (1 = direct)", needs,
                                                 joined(all, "] or [valve.")));
  return std::nullopt;
}

}  // namespace

bool carry_lifts(Context& context, const Engine& engine, Lobe& lobe, Card& card) {
  const auto differs = [&](LiftAt measured) { return measured != lobe.measured; };
  const auto odd =
      std::find_if(card.rows.begin(), card.rows.end(), [&](const CardRow& row) { return differs(row.measured); });
  if (odd == card.rows.end() && !differs(card.lift_measured)) return true;
  const std::string path = "lobe." + lobe.name;
  const auto rocker =
      rocker_of(context, engine, lobe,
                context.place_of(differs(card.lift_measured) ? path + ".lift_measured" : odd->path + ".measured"));
  if (!rocker) return false;
  const auto carried = [&](double lift, LiftAt measured) {
    if (!differs(measured)) return lift;
    return lobe.measured == LiftAt::lobe ? rocker->lobe_lift(lift) : rocker->valve_lift(lift);
  };
  lobe.lift = carried(lobe.lift, card.lift_measured);
  for (CardRow& row : card.rows) row.lift = carried(row.lift, row.measured);
  return true;
}

}  // namespace eyebrow
