#include "study/minima.hpp"

#include <array>
#include <cmath>

#include "study/card_range.hpp"
#include "study/piston_gap.hpp"
#include "study/place.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"
#include "study/running.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// Where the rim is deepest in its pocket's mouth, at any position of its cam: sampled and narrowed, not proven. Not
/// found without a pocket.
Least deepest_entry(const Setup& setup, int valve) {
  const Motion motion = setup.motion.with(between_stops(setup.engine));
  const ValveToPiston& query = setup.valves[static_cast<std::size_t>(valve)].to_piston;
  const GapRequest nothing_else{false, false, false, false, false, 0};
  return least_sampled(
      [&](double crank) {
        const Pose deepest{motion.height(crank), motion.lifts(valve, crank).greatest};
        return -query.gaps(deepest, nothing_else).entry;
      },
      kCoarseStep);
}

/// A least gap of a closed valve, as a big pocket or late piston gives it, hides what the open valve has left.
void add_open_least(const Setup& setup, int valve, const PistonGap& gap, Minimum& minimum) {
  const double peak = setup.valves[static_cast<std::size_t>(valve)].peak_crank;
  if (!minimum.gap.measured() || minimum.lift > 0 || !(setup.motion.lift(valve, peak) > 0)) return;
  const Least least = least_over_cycle(gap.over(lobe_end(setup, valve, -1), lobe_end(setup, valve, 1)));
  minimum.open_least = least.value;
  minimum.open_crank = std::remainder(least.crank, 4 * kPi);
}

}  // namespace

void find_minima(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer) {
  constexpr std::size_t kKinds = std::size(kGapKinds);
  struct Found {
    Minimum as_set, minimum;
  };
  std::vector<std::array<Found, kKinds>> minima(valves.size());
  run_tasks(valves.size() * kKinds, 1, pacer, kMinimaUnits / kKinds, [&](std::size_t task) {
    const std::size_t valve = task / kKinds, k = task % kKinds;
    const int number = static_cast<int>(valve);
    const PistonGap gap(setup, number, kGapKinds[k]);
    const Least least = least_over_cycle(gap.over_cycle());
    Found& found = minima[valve][k];
    found.as_set = piston_minimum(setup, number, kGapKinds[k], least);
    add_open_least(setup, number, gap, found.as_set);
    found.minimum = has_stops(setup.engine, number) ? least_between_stops(setup, number, kGapKinds[k]) : found.as_set;
  });
  for (std::size_t valve = 0; valve < valves.size(); ++valve) {
    const bool stops = has_stops(setup.engine, static_cast<int>(valve));
    for (std::size_t k = 0; k < kKinds; ++k) {
      valves[valve].minimum[kGapKinds[k]] = minima[valve][k].minimum;
      if (stops) valves[valve].as_set[kGapKinds[k]] = minima[valve][k].as_set;
    }
    const Least deepest = deepest_entry(setup, static_cast<int>(valve));
    if (!deepest.found) continue;
    valves[valve].deepest_entry = -deepest.value;
    valves[valve].deepest_entry_crank = deepest.crank;
  }
}

void find_card_ranges(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer) {
  constexpr std::size_t kKinds = std::size(kGapKinds);
  std::vector<std::array<GapRange, kKinds>> ranges(valves.size());
  std::vector<std::array<double, kKinds>> as_set(valves.size());
  run_tasks(valves.size() * kKinds, 1, pacer, kMinimaUnits / kKinds, [&](std::size_t task) {
    const std::size_t valve = task / kKinds, k = task % kKinds;
    const int number = static_cast<int>(valve);
    const Minimum& minimum = valves[valve].minimum.at(kGapKinds[k]);
    // At the position where the gap is least.
    const Engine there = minimum.advance ? advanced(setup.engine, number, *minimum.advance) : setup.engine;
    ranges[valve][k] = card_range(Setup(setup, there), number, kGapKinds[k], minimum, Positions::all);
    if (valves[valve].as_set.empty()) return;
    const Minimum& set = valves[valve].as_set.at(kGapKinds[k]);
    as_set[valve][k] = std::fmin(set.gap.value, card_range(setup, number, kGapKinds[k], set, Positions::as_set).least);
  });
  for (std::size_t valve = 0; valve < valves.size(); ++valve)
    for (std::size_t k = 0; k < kKinds; ++k) {
      if (!std::isnan(ranges[valve][k].least)) valves[valve].card[kGapKinds[k]] = ranges[valve][k];
      if (!valves[valve].as_set.empty()) valves[valve].as_set_judged[kGapKinds[k]] = as_set[valve][k];
    }
}

void find_running(const Setup& setup, const std::vector<Allowance>& allowances, std::vector<ValveResult>& valves,
                  Pacer& pacer) {
  constexpr std::size_t kKinds = std::size(kGapKinds);
  std::vector<std::array<RunningLeast, kKinds>> found(valves.size());
  run_tasks(valves.size() * kKinds, 1, pacer, kMinimaUnits / kKinds, [&](std::size_t task) {
    const std::size_t valve = task / kKinds, k = task % kKinds;
    const Minimum& bench = valves[valve].minimum.at(kGapKinds[k]);
    const auto open = valves[valve].card.find(kGapKinds[k]);
    const double judged = open == valves[valve].card.end() ? bench.gap.value : open->second.least;
    found[valve][k] = running_least(setup, allowances, static_cast<int>(valve), kGapKinds[k], bench, judged);
  });
  for (std::size_t valve = 0; valve < valves.size(); ++valve)
    for (std::size_t k = 0; k < kKinds; ++k) valves[valve].running[kGapKinds[k]] = found[valve][k];
}

}  // namespace eyebrow::study
