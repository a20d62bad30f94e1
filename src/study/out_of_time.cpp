#include "study/out_of_time.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "eyebrow/timing.hpp"
#include "study/free_least.hpp"
#include "study/positions.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

struct Apart {
  std::string gap;
  std::function<bool(const Setup&)> keeps;
};

/// Half a turn of the cam; less with stops, so that the lifts of one crank angle come from no more than a quarter turn
/// to either side (Motion knows the lobe once, not its next turn).
int most_steps(const Engine& engine, const std::vector<std::string>& cams) {
  double beside = 0;
  for (const Cam& cam : engine.cams)
    if (cam.stops && std::ranges::find(cams, cam.name) != cams.end())
      beside = std::max({beside, cam.stops->earliest - cam.advance, cam.advance - cam.stops->latest});
  return static_cast<int>((2 * kPi - 2 * beside) / kReserveStep);
}

/// Everything that must stay apart; cheap ones first, which narrow what the others have to look at.
std::vector<Apart> demands_of(const Setup& setup, const MovedByCams& moved) {
  std::vector<Apart> demands;
  for (const GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest})
    for (const int valve : moved.valves)
      demands.push_back({setup.engine.valves[static_cast<std::size_t>(valve)].name + '.' + to_string(kind),
                         [=](const Setup& free) { return free_keeps_above(free, valve, kind, 0); }});
  for (const ValvePair* pair : moved.pairs)
    demands.push_back({gap_name({"valve to valve",
                                 setup.engine.valves[static_cast<std::size_t>(pair->first())].name + " / " +
                                     setup.engine.valves[static_cast<std::size_t>(pair->second())].name,
                                 0, false}),
                       [pair](const Setup& free) { return pair_keeps_above(free, free.motion, *pair, 0); }});
  return demands;
}

bool apart_as_far_as(const Setup& setup, const MovedByCams& moved, const Apart& demand, int way, double by) {
  // The middle of the way, and as far to both sides: so no crank angle's lifts reach round to the lobe's next turn.
  const double half = 0.5 * by;
  Engine engine = setup.engine;
  for (const std::string& cam : moved.cams) engine = cam_moved(engine, cam, way * half);
  Setup free(setup, engine);
  Freedom freedom = judged_lifts(engine);
  for (std::size_t i = 0; i < freedom.valves.size(); ++i)
    if (std::ranges::find(moved.cams, cam_of(engine, static_cast<int>(i)).name) != moved.cams.end()) {
      freedom.valves[i].early += half;
      freedom.valves[i].late += half;
    }
  free.motion = free.motion.with(freedom);
  return demand.keeps(free);
}

}  // namespace

OutOfTime out_of_time(const Setup& setup, const MovedByCams& moved, int way, int teeth) {
  OutOfTime out;
  const int most = most_steps(setup.engine, moved.cams);
  int limit = most;  // the furthest that is not known to touch
  const std::vector<Apart> demands = demands_of(setup, moved);
  const auto keeps = [&](const Apart& demand, int steps) {
    return apart_as_far_as(setup, moved, demand, way, steps * kReserveStep);
  };
  for (const Apart& demand : demands) {
    int good = -1, bad = -1;
    for (int at = 0; bad < 0 && good < limit; at = std::min(limit, at == 0 ? kReserveFirst : 2 * at))
      (keeps(demand, at) ? good : bad) = at;
    if (bad < 0) continue;
    while (bad - good > 1) {
      const int middle = good + (bad - good) / 2;
      (keeps(demand, middle) ? good : bad) = middle;
    }
    // Of two that end at the same step the first is told.
    if (!out.gap.empty() && good >= limit) continue;
    limit = good;
    out.gap = demand.gap;
    if (limit < 0) break;
  }
  out.now = limit < 0;
  out.all_round = out.gap.empty();
  out.by = std::max(0, limit) * kReserveStep;
  if (teeth > 0 && !out.all_round) {
    const double tooth = one_tooth(teeth);
    int whole = static_cast<int>(std::floor(out.by / tooth + 1e-9));
    const double next = (whole + 1) * tooth;
    const bool within = next < out.by + kReserveStep && !out.now;
    if (within && std::ranges::all_of(
                      demands, [&](const Apart& demand) { return apart_as_far_as(setup, moved, demand, way, next); }))
      ++whole;
    out.teeth = whole;
  }
  return out;
}

}  // namespace eyebrow::study
