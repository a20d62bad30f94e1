#include "study/sweep.hpp"

#include <algorithm>
#include <array>

#include "study/distinct.hpp"
#include "study/place.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

template <typename OfSeries>
auto& column(OfSeries& series, GapKind kind) {
  switch (kind) {
    case GapKind::travel:
      return series.travel;
    case GapKind::face:
      return series.face;
    case GapKind::radial:
      return series.radial;
    case GapKind::closest:
      break;
  }
  return series.closest;
}

std::vector<CyclePoint> points_of(const std::vector<double>& cranks, const std::vector<double>& values) {
  std::vector<CyclePoint> points(cranks.size());
  for (std::size_t i = 0; i < points.size(); ++i) points[i] = {cranks[i], values[i]};
  return points;
}

/// Where the rim is deepest in its pocket's mouth; not found when there is no pocket.
Least deepest_entry(const Setup& setup, int valve, const Series& series) {
  std::vector<double> height_of_rim(series.entry);
  for (double& value : height_of_rim) value = -value;
  const ValveToPiston& query = setup.valves[valve].to_piston;
  const GapRequest nothing_else{false, false, false, false, false, 0};
  return least_over_cycle({[&](double crank) { return -query.gaps(setup.pose(valve, crank), nothing_else).entry; },
                           [&](double crank) { return setup.relative_place(valve, crank); }},
                          points_of(series.crank, height_of_rim));
}

CyclePath path_of(const Setup& setup, int valve, GapKind kind) {
  const ValveSetup& of = setup.valves[valve];
  const GapRequest request = request_for(kind, of.asked.reach, false);
  return {[=, &setup, &of](double crank) { return of.to_piston.gaps(setup.pose(valve, crank), request)[kind].value; },
          [=, &setup](double crank) { return setup.relative_place(valve, crank); }, kind == GapKind::closest};
}

/// The radial gap may exist in a narrow range of crank angle only; if it does, it does where the rim is deepest.
/// That angle is added to the samples, so that no step is too coarse to see it.
Least least_gap(const Setup& setup, int valve, GapKind kind, const Series& series, const Least& deepest) {
  const CyclePath path = path_of(setup, valve, kind);
  std::vector<CyclePoint> points = points_of(series.crank, column(series, kind));
  if (deepest.found) {
    const auto place = std::lower_bound(points.begin(), points.end(), deepest.crank,
                                        [](const CyclePoint& point, double crank) { return point.crank < crank; });
    if (place == points.end() || place->crank != deepest.crank)
      points.insert(place, {deepest.crank, path.value(deepest.crank)});
  }
  return least_over_cycle(path, std::move(points));
}

/// A least gap of a closed valve, as a big pocket or late piston gives it, hides what the open valve has left.
void add_open_least(const Setup& setup, int valve, GapKind kind, const Series& series, Minimum& minimum) {
  if (!minimum.gap.measured() || minimum.lift > 0) return;
  std::vector<CyclePoint> open;
  const std::vector<double>& values = column(series, kind);
  for (std::size_t i = 0; i < values.size(); ++i)
    if (series.lift[i] > 0) open.push_back({series.crank[i], values[i]});
  const Least least = least_over_cycle(path_of(setup, valve, kind), std::move(open));
  minimum.open_least = least.value;
  minimum.open_crank = least.crank;
}

Series sweep_valve(const Setup& setup, int valve, const std::vector<double>& cranks, Pacer& pacer) {
  const std::size_t count = cranks.size();
  Series series;
  series.crank = cranks;
  std::vector<Pose> poses;
  for (double crank : cranks) {
    poses.push_back(setup.pose(valve, crank));
    series.lift.push_back(poses.back().lift);
    series.piston_depth.push_back(setup.motion.piston_depth(crank));
  }
  const Distinct distinct = distinct_poses(poses);
  const ValveSetup& of = setup.valves[valve];
  const GapRequest request{true, true, true, true, false, of.asked.reach};
  std::vector<PoseGaps> found(distinct.samples.size());
  run_tasks(found.size(), kChunk, pacer, static_cast<double>(count) / static_cast<double>(found.size()),
            [&](std::size_t i) { found[i] = of.to_piston.gaps(poses[distinct.samples[i]], request); });
  for (std::size_t i = 0; i < count; ++i) {
    const PoseGaps& gaps = found[distinct.query[i]];
    for (GapKind kind : kGapKinds) column(series, kind).push_back(gaps[kind].value);
    series.entry.push_back(gaps.entry);
  }
  return series;
}

}  // namespace

GapRequest request_for(GapKind kind, double reach, bool bounds) {
  return {
      kind == GapKind::travel, kind == GapKind::face, kind == GapKind::radial, kind == GapKind::closest, bounds, reach};
}

std::vector<Series> sweep(const Setup& setup, const std::vector<double>& cranks, Pacer& pacer) {
  std::vector<Series> all;
  for (std::size_t valve = 0; valve < setup.valves.size(); ++valve)
    all.push_back(sweep_valve(setup, static_cast<int>(valve), cranks, pacer));
  return all;
}

void find_minima(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer) {
  std::vector<Least> deepest(valves.size());
  run_tasks(valves.size(), 1, pacer, 0, [&](std::size_t valve) {
    deepest[valve] = deepest_entry(setup, static_cast<int>(valve), valves[valve].series);
    if (!deepest[valve].found) return;
    valves[valve].deepest_entry = -deepest[valve].value;
    valves[valve].deepest_entry_crank = deepest[valve].crank;
  });
  constexpr std::size_t kKinds = std::size(kGapKinds);
  std::vector<std::array<Minimum, kKinds>> minima(valves.size());
  run_tasks(valves.size() * kKinds, 1, pacer, kMinimaUnits / kKinds, [&](std::size_t task) {
    const std::size_t valve = task / kKinds, k = task % kKinds;
    const int number = static_cast<int>(valve);
    const Least least = least_gap(setup, number, kGapKinds[k], valves[valve].series, deepest[valve]);
    minima[valve][k] = piston_minimum(setup, number, kGapKinds[k], least);
    add_open_least(setup, number, kGapKinds[k], valves[valve].series, minima[valve][k]);
  });
  for (std::size_t valve = 0; valve < valves.size(); ++valve)
    for (std::size_t k = 0; k < kKinds; ++k) valves[valve].minimum[kGapKinds[k]] = minima[valve][k];
}

}  // namespace eyebrow::study
