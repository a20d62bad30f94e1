#include "study/judge.hpp"

#include "study/bore.hpp"
#include "study/free_least.hpp"
#include "study/piston_gap.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"
#include "study/running.hpp"
#include "study/running_others.hpp"

namespace eyebrow::study {

bool has_choice(const Setup& setup, int valve) {
  return has_stops(setup.engine, valve) || setup.motion.has_card_band(valve);
}

bool keeps(const Setup& setup, int valve, GapKind kind, double value) {
  if (!has_choice(setup, valve)) return keeps_above(PistonGap(setup, valve, kind).over_cycle(), value);
  Setup free = setup;
  free.motion = setup.motion.with(judged_lifts(setup.engine));
  return free_keeps_above(free, valve, kind, value);
}

double judged_least(const Setup& setup, int valve, GapKind kind) {
  if (!has_choice(setup, valve)) {
    const PistonGap gap(setup, valve, kind);
    CycleGap cycle = gap.over_cycle();
    cycle.span = false;
    return least_over_cycle(cycle).value;
  }
  Setup free = setup;
  free.motion = setup.motion.with(judged_lifts(setup.engine));
  return free_least(free, valve, kind).value;
}

double pair_value(const Setup& setup, const ValvePair& pair) {
  return pair_least(setup, setup.motion.with(between_stops(setup.engine)), pair).value;
}

bool pair_keeps(const Setup& setup, const ValvePair& pair, double value) {
  return pair_keeps_above(setup, setup.motion.with(between_stops(setup.engine)), pair, value);
}

double bore_value(const Setup& setup, int valve) {
  return bore_minimum(setup, valve).gap.value;
}

void add_running(const Setup& setup, const std::vector<ValvePair>& pairs, LeastGaps& found) {
  const std::vector<Allowance> allowed = allowances(setup.engine);
  if (allowed.empty()) return;
  for (std::size_t valve = 0; valve < setup.valves.size(); ++valve) {
    const int number = static_cast<int>(valve);
    KindValues running;
    for (std::size_t k = 0; k < running.size(); ++k)
      running[k] = running_value(setup, allowed, number, kGapKinds[k], found.piston[valve][k]);
    found.piston_running.push_back(running);
    found.bore_running.push_back(running_bore(setup, allowed, number, found.bore[valve]));
  }
  for (std::size_t pair = 0; pair < pairs.size(); ++pair)
    found.pairs_running.push_back(running_pair(setup, allowed, pairs[pair], found.pairs[pair]));
  found.head_running = running_head(setup.engine, allowed, found.head);
}

LeastGaps least_gaps(const Setup& setup, const std::vector<ValvePair>& pairs) {
  LeastGaps found;
  for (int valve = 0; valve < static_cast<int>(setup.valves.size()); ++valve) {
    KindValues& values = found.piston.emplace_back();
    for (std::size_t k = 0; k < values.size(); ++k) values[k] = judged_least(setup, valve, kGapKinds[k]);
    found.bore.push_back(bore_value(setup, valve));
  }
  for (const ValvePair& pair : pairs) found.pairs.push_back(pair_value(setup, pair));
  found.head = piston_to_head(setup.engine);
  add_running(setup, pairs, found);
  return found;
}

LeastGaps no_gaps(const Engine& engine) {
  const std::size_t valves = engine.valves.size(), pairs = valves * (valves - 1) / 2;
  KindValues none;
  none.fill(NAN);
  LeastGaps gaps;
  gaps.piston.assign(valves, none);
  gaps.bore.assign(valves, NAN);
  gaps.pairs.assign(pairs, NAN);
  if (allowances(engine).empty()) return gaps;
  gaps.piston_running = gaps.piston;
  gaps.bore_running.assign(valves, 0);
  gaps.pairs_running.assign(pairs, 0);
  gaps.head_running = 0;
  return gaps;
}

Judged judge(const Engine& engine, const LeastGaps& found, RunningRows running) {
  CheckResult result;
  const std::size_t count = engine.valves.size();
  const auto either = [](const std::vector<double>& values, std::size_t i) { return values.empty() ? NAN : values[i]; };
  for (std::size_t i = 0; i < count; ++i) {
    ValveResult valve;
    valve.name = engine.valves[i].name;
    valve.role = engine.valves[i].role;
    for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
      Gap& gap = valve.minimum[kGapKinds[k]].gap;
      gap.value = found.piston[i][k];
      gap.status = std::isnan(gap.value) ? GapStatus::no_meeting : GapStatus::measured;
      if (!found.piston_running.empty()) valve.running[kGapKinds[k]].value = found.piston_running[i][k];
    }
    valve.bore.gap.value = found.bore[i];
    valve.bore_running = either(found.bore_running, i);
    result.valves.push_back(std::move(valve));
  }
  std::size_t pair = 0;
  for (std::size_t first = 0; first < count; ++first)
    for (std::size_t second = first + 1; second < count; ++second, ++pair) {
      PairResult one{engine.valves[first].name, engine.valves[second].name, {}, either(found.pairs_running, pair)};
      one.minimum.gap.value = found.pairs[pair];
      result.pairs.push_back(std::move(one));
    }
  result.piston_to_head = found.head;
  result.piston_to_head_running = found.head_running;
  Judged judged;
  judged.rows = result.asked = asked_rows(engine, result, running);
  judged.verdict = verdict_of(result);
  return judged;
}

}  // namespace eyebrow::study
