#include "study/minima.hpp"

#include <array>
#include <cmath>

#include "study/piston_gap.hpp"
#include "study/place.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// Where the rim is deepest in its pocket's mouth: sampled and narrowed, not proven. Not found without a pocket.
Least deepest_entry(const Setup& setup, int valve) {
  const ValveToPiston& query = setup.valves[static_cast<std::size_t>(valve)].to_piston;
  const GapRequest nothing_else{false, false, false, false, false, 0};
  return least_sampled([&](double crank) { return -query.gaps(setup.pose(valve, crank), nothing_else).entry; },
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
  std::vector<std::array<Minimum, kKinds>> minima(valves.size());
  run_tasks(valves.size() * kKinds, 1, pacer, kMinimaUnits / kKinds, [&](std::size_t task) {
    const std::size_t valve = task / kKinds, k = task % kKinds;
    const int number = static_cast<int>(valve);
    const PistonGap gap(setup, number, kGapKinds[k]);
    const Least least = least_over_cycle(gap.over_cycle());
    minima[valve][k] = piston_minimum(setup, number, kGapKinds[k], least);
    add_open_least(setup, number, gap, minima[valve][k]);
  });
  for (std::size_t valve = 0; valve < valves.size(); ++valve) {
    for (std::size_t k = 0; k < kKinds; ++k) valves[valve].minimum[kGapKinds[k]] = minima[valve][k];
    const Least deepest = deepest_entry(setup, static_cast<int>(valve));
    if (!deepest.found) continue;
    valves[valve].deepest_entry = -deepest.value;
    valves[valve].deepest_entry_crank = deepest.crank;
  }
}

}  // namespace eyebrow::study
