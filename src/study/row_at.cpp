#include "study/row_at.hpp"

#include <cmath>

#include "study/asked.hpp"
#include "study/running.hpp"
#include "study/running_others.hpp"

namespace eyebrow::study {

RowAt::RowAt(const Engine& engine, std::size_t row) {
  constexpr std::size_t kinds = std::size(kGapKinds);
  const std::size_t valves = engine.valves.size(), pairs = valves * (valves - 1) / 2,
                    rest = kinds * valves + pairs + valves + 1;
  running = row >= rest;
  row %= rest;
  if (row < kinds * valves) {
    number = row / kinds;
    kind = row % kinds;
  } else if ((row -= kinds * valves) < pairs) {
    of = Of::pair;
    number = row;
  } else if ((row -= pairs) < valves) {
    of = Of::bore;
    number = row;
  } else {
    of = Of::head;
  }
}

std::pair<int, int> pair_at(const Engine& engine, std::size_t pair) {
  const int valves = static_cast<int>(engine.valves.size());
  int first = 0, second = 1;
  for (std::size_t i = 0; i < pair; ++i)
    if (++second == valves) second = ++first + 1;
  return {first, second};
}

AskedRow judged_row(const Setup& setup, const std::vector<ValvePair>& pairs, std::size_t row) {
  const Engine& engine = setup.engine;
  const RowAt at(engine, row);
  LeastGaps found = no_gaps(engine);
  const auto allowed = at.running ? allowances(engine) : std::vector<Allowance>{};
  const std::size_t i = at.number;
  switch (at.of) {
    case RowAt::Of::piston: {
      const int valve = static_cast<int>(i);
      const auto find = [&](std::size_t kind) {
        double& bench = found.piston[i][kind];
        bench = judged_least(setup, valve, kGapKinds[kind]);
        if (at.running) found.piston_running[i][kind] = running_value(setup, allowed, valve, kGapKinds[kind], bench);
        return at.running ? found.piston_running[i][kind] : bench;
      };
      // Where there is no such gap, another answers for it.
      if (std::isnan(find(at.kind)))
        for (std::size_t kind = 0; kind < std::size(kGapKinds); ++kind)
          if (kind != at.kind) find(kind);
      break;
    }
    case RowAt::Of::pair:
      found.pairs[i] = pair_value(setup, pairs[i]);
      if (at.running) found.pairs_running[i] = running_pair(setup, allowed, pairs[i], found.pairs[i]);
      break;
    case RowAt::Of::bore:
      found.bore[i] = bore_value(setup, static_cast<int>(i));
      if (at.running) found.bore_running[i] = running_bore(setup, allowed, static_cast<int>(i), found.bore[i]);
      break;
    case RowAt::Of::head:
      found.head = piston_to_head(engine);
      if (at.running) found.head_running = running_head(engine, allowed, found.head);
  }
  return judge(engine, found).rows[row];
}

}  // namespace eyebrow::study
