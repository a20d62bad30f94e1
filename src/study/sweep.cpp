#include "study/sweep.hpp"

#include "study/distinct.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {

const std::vector<double>& Series::operator[](GapKind kind) const {
  switch (kind) {
    case GapKind::travel:
      return travel;
    case GapKind::face:
      return face;
    case GapKind::radial:
      return radial;
    case GapKind::closest:
      break;
  }
  return closest;
}

}  // namespace eyebrow

namespace eyebrow::study {
namespace {

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
    for (GapKind kind : kGapKinds) series[kind].push_back(gaps[kind].value);
    series.entry.push_back(gaps.entry);
  }
  return series;
}

}  // namespace

std::vector<Series> sweep(const Setup& setup, const std::vector<double>& cranks, Pacer& pacer) {
  std::vector<Series> all;
  for (std::size_t valve = 0; valve < setup.valves.size(); ++valve)
    all.push_back(sweep_valve(setup, static_cast<int>(valve), cranks, pacer));
  return all;
}

}  // namespace eyebrow::study
