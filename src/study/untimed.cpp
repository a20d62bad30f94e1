#include "eyebrow/untimed.hpp"

#include <algorithm>
#include <cmath>

#include "eyebrow/motion.hpp"
#include "study/any_lifts.hpp"
#include "study/bore.hpp"
#include "study/free_least.hpp"
#include "study/judge.hpp"
#include "study/out_of_time.hpp"
#include "study/piston_gap.hpp"
#include "study/positions.hpp"
#include "study/possible.hpp"
#include "study/running_others.hpp"
#include "study/tasks.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace study {
namespace {

/// What progress counts.
constexpr double kUntimedValve = 4, kUntimedPair = 2, kUntimedCam = 6;

/// Within this of its highest place the piston is at TDC, mm: two degrees of crank.
constexpr double kAtTdc = 0.02;

/// Every cam anywhere in its turn, by itself: at each crank angle all lifts up to the greatest. Half a turn of the cam
/// each way is enough where the lobe's peak is at its centre; a quarter more reaches one that stands beside it, and
/// leaves one end of the stretch, where the lift is least, on the base circle.
Freedom at_any_position(const Engine& engine) {
  Freedom freedom;
  freedom.valves.resize(engine.valves.size());
  for (Freedom::OfValve& each : freedom.valves) {
    each.early = each.late = 2.5 * kPi;
    each.card = true;
  }
  return freedom;
}

void find_untimed(const Setup& setup, const Setup& any, int number, UntimedValve& of) {
  const ValveSetup& valve = setup.valves[static_cast<std::size_t>(number)];
  of.name = setup.engine.valves[static_cast<std::size_t>(number)].name;
  of.cam = cam_of(setup.engine, number).name;
  of.greatest_lift = any.motion.lifts(number, 0).greatest;
  const FreeLeast travel = free_least(any, number, GapKind::travel);
  of.meets = travel.found;
  of.clears = !travel.found || travel.proven >= 0;
  if (travel.found) {
    of.free_lift = of.greatest_lift + travel.value;
    of.free_low = of.greatest_lift + travel.proven;
    of.piston_depth = setup.motion.piston_depth(travel.crank);
    of.at_tdc = of.piston_depth < setup.engine.cylinder.deck_clearance + kAtTdc;
    const Pose there{setup.motion.height(travel.crank), std::max(0.0, of.free_lift)};
    const Gap gap = valve.to_piston.gaps(there, request_for(GapKind::travel, 0, false)).travel;
    if (gap.valve_part >= 0) of.face_valve = to_string(valve.to_piston.profile().elements[gap.valve_part].part);
    if (gap.other_face >= 0) of.face_other = valve.to_piston.crown().faces[gap.other_face].name;
  }
  if (of.clears) {
    const FreeLeast closest = free_least(any, number, GapKind::closest);
    of.closest = closest.value;
    // The two can only disagree where they are within the searches' tolerances of contact: then it touches.
    of.clears = !closest.found || closest.proven >= 0;
  }
  Setup judged = setup;
  judged.motion = setup.motion.with(judged_lifts(setup.engine));
  const FreeLeast in_time = free_least(judged, number, GapKind::travel);
  if (in_time.found) {
    of.loft = in_time.value;
    of.loft_crank = in_time.crank;
  }
}

bool touch_with_loft(const Setup& setup, const ValvePair& pair, double loft) {
  Freedom freedom = judged_lifts(setup.engine);
  freedom.valves[static_cast<std::size_t>(pair.first())].lift = loft;
  freedom.valves[static_cast<std::size_t>(pair.second())].lift = loft;
  return !pair_keeps_above(setup, setup.motion.with(freedom), pair, 0);
}

double loft_of(const Setup& setup, const ValvePair& pair, double most) {
  int bad = static_cast<int>(most / kLoftStep), good = 0;
  if (!touch_with_loft(setup, pair, bad * kLoftStep)) return NAN;
  if (touch_with_loft(setup, pair, 0)) return 0;
  while (bad - good > 1) {
    const int middle = good + (bad - good) / 2;
    (touch_with_loft(setup, pair, middle * kLoftStep) ? bad : good) = middle;
  }
  return good * kLoftStep;
}

void find_untimed(const Setup& setup, const Setup& any, const ValvePair& pair, UntimedPair& of) {
  const auto first = static_cast<std::size_t>(pair.first()), second = static_cast<std::size_t>(pair.second());
  of.first = setup.engine.valves[first].name;
  of.second = setup.engine.valves[second].name;
  of.one_cam = cam_of(setup.engine, pair.first()).name == cam_of(setup.engine, pair.second()).name;
  const double one = any.motion.lifts(pair.first(), 0).greatest, other = any.motion.lifts(pair.second(), 0).greatest;
  if (!of.one_cam) {
    const AnyLiftsLeast least =
        least_at_any_lifts(pair, setup.valves[first].place.up, setup.valves[second].place.up, one, other);
    of.least = least.value;
    of.low = least.proven;
    of.lift = least.first;
    of.lift2 = least.second;
    of.clears = least.proven >= 0;
  }
  of.loft = loft_of(setup, pair, std::min(one, other));
}

/// The one that ends first; of two that end at the same step the first.
const OutOfTime& nearer(const OutOfTime& one, const OutOfTime& other) {
  if (one.all_round || other.all_round) return one.all_round ? other : one;
  if (one.now != other.now) return one.now ? one : other;
  return other.by < one.by ? other : one;
}

/// Of some cams that are out together: what their valves do with the piston is known, what they do with the valves of
/// the other cams is looked for.
OutOfTime end_of_cams(const Setup& setup, const std::vector<std::string>& cams, int teeth, int way,
                      const UntimedResult& found, const std::vector<ValvePair>& pairs) {
  const auto rides = [&](const std::string& cam) { return std::ranges::find(cams, cam) != cams.end(); };
  MovedByCams moved{cams, {}, {}};
  for (std::size_t i = 0; i < pairs.size(); ++i)
    if (!found.pairs[i].clears &&
        rides(cam_of(setup.engine, pairs[i].first()).name) != rides(cam_of(setup.engine, pairs[i].second()).name))
      moved.pairs.push_back(&pairs[i]);
  OutOfTime end;
  end.all_round = true;
  std::optional<int> whole;
  const auto add = [&](const OutOfTime& one) {
    end = nearer(end, one);
    if (one.teeth && (!whole || *one.teeth < *whole)) whole = one.teeth;
  };
  for (const UntimedValve& valve : found.valves)
    if (rides(valve.cam)) add(way > 0 ? valve.early : valve.late);
  if (!moved.pairs.empty()) add(out_of_time(setup, moved, way, teeth));
  end.teeth = teeth > 0 ? whole : std::nullopt;
  return end;
}

/// The cams that move valves, and behind them, of several, all together.
std::vector<std::pair<UntimedCam, std::vector<std::string>>> cams_of(const Engine& engine, const UntimedResult& found) {
  std::vector<std::pair<UntimedCam, std::vector<std::string>>> cams;
  for (const Cam& cam : engine.cams)
    if (std::ranges::find(found.valves, cam.name, &UntimedValve::cam) != found.valves.end())
      cams.push_back({{cam.name, cam.teeth, {}, {}}, {cam.name}});
  if (cams.size() < 2) return cams;
  std::pair<UntimedCam, std::vector<std::string>> all{{"", cams.front().first.teeth, {}, {}}, {}};
  for (const auto& [cam, names] : cams) {
    all.second.push_back(cam.name);
    if (cam.teeth != all.first.teeth) all.first.teeth = 0;
  }
  cams.push_back(std::move(all));
  return cams;
}

}  // namespace
}  // namespace study

UntimedResult run_untimed(const Engine& engine, const Parts& parts, const CheckOptions& options) {
  using namespace study;
  const Setup setup(engine, parts);
  require_places_of_their_own(setup);
  const std::vector<ValvePair> pairs = valve_pairs(setup);
  require_apart_when_closed(setup, pairs);
  Setup any = setup;
  any.motion = setup.motion.with(at_any_position(engine));

  UntimedResult result;
  result.engine = engine.name;
  result.units = engine.units;
  result.running_lash = engine.running_lash;
  result.warnings = motion_doubts(engine, setup.motion);
  result.warnings.insert(result.warnings.end(), parts.warnings.begin(), parts.warnings.end());

  const double valves = static_cast<double>(engine.valves.size());
  Pacer pacer(options, valves * kUntimedValve * 2 + static_cast<double>(pairs.size()) * kUntimedPair +
                           static_cast<double>(engine.cams.size() + 1) * kUntimedCam);
  result.valves.resize(engine.valves.size());
  run_tasks(result.valves.size(), 1, pacer, kUntimedValve,
            [&](std::size_t i) { find_untimed(setup, any, static_cast<int>(i), result.valves[i]); });
  result.pairs.resize(pairs.size());
  run_tasks(pairs.size(), 1, pacer, kUntimedPair,
            [&](std::size_t i) { find_untimed(setup, any, pairs[i], result.pairs[i]); });

  // A valve that clears at any position has no end; of the others each alone first.
  run_tasks(2 * result.valves.size(), 1, pacer, kUntimedValve / 2, [&](std::size_t task) {
    UntimedValve& valve = result.valves[task / 2];
    OutOfTime& end = task % 2 == 0 ? valve.early : valve.late;
    MovedByCams moved{{valve.cam}, {}, {}};
    if (!valve.clears) moved.valves.push_back(static_cast<int>(task / 2));
    const int teeth = cam_of(engine, static_cast<int>(task / 2)).teeth;
    end = out_of_time(setup, moved, task % 2 == 0 ? 1 : -1, teeth);
  });
  auto cams = cams_of(engine, result);
  run_tasks(2 * cams.size(), 1, pacer, kUntimedCam / 2, [&](std::size_t task) {
    auto& [cam, names] = cams[task / 2];
    (task % 2 == 0 ? cam.early : cam.late) =
        end_of_cams(setup, names, cam.teeth, task % 2 == 0 ? 1 : -1, result, pairs);
  });
  for (auto& [cam, names] : cams) result.cams.push_back(std::move(cam));

  for (int valve = 0; valve < static_cast<int>(engine.valves.size()); ++valve) {
    const double bore = bore_value(setup, valve);
    if (!std::isnan(result.bore) && !(bore < result.bore)) continue;
    result.bore = bore;
    result.bore_valve = engine.valves[static_cast<std::size_t>(valve)].name;
  }
  result.head = piston_to_head(engine);
  result.clears = std::ranges::all_of(result.valves, &UntimedValve::clears) &&
                  std::ranges::all_of(result.pairs, &UntimedPair::clears) && !(result.bore < 0) && result.head > 0;
  // On one cam, what touches as it is set touches at any position of the cam.
  for (const ValvePair& pair : pairs) result.clears = result.clears && !(pair_value(setup, pair) < 0);
  return result;
}

}  // namespace eyebrow
