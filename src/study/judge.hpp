// What a check judges, without what only its report tells: no series, points or spans.
#pragma once
#include <array>
#include <vector>

#include "eyebrow/check.hpp"
#include "study/asked.hpp"
#include "study/pairs.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// In the order of kGapKinds, mm; NaN = there is none.
using KindValues = std::array<double, std::size(kGapKinds)>;

/// Every least gap that is judged.
struct LeastGaps {
  std::vector<KindValues> piston, piston_running;  ///< one a valve
  std::vector<double> pairs, pairs_running;        ///< in the order of valve_pairs
  std::vector<double> bore, bore_running;          ///< one a valve
  double head = NAN, head_running = NAN;
};  // what is running is empty, or NaN, where the engine file states nothing of it

struct Judged {
  std::vector<AskedRow> rows;  ///< as CheckResult::asked, all of them, without `middle`
  Verdict verdict = Verdict::holds;
};

/// Is there more than one lift at a crank angle that a gap of the valve is judged over: cam positions, a card?
bool has_choice(const Setup& setup, int valve);

/// The least gap over every crank angle and all lifts that are judged, as a check tells it.
double judged_least(const Setup& setup, int valve, GapKind kind);

/// Is that least nowhere below `value`? Where there is no such gap it is not.
bool keeps(const Setup& setup, int valve, GapKind kind, double value);
bool pair_keeps(const Setup& setup, const ValvePair& pair, double value);

/// Of a pair at rest, and of the valve to the bore.
double pair_value(const Setup& setup, const ValvePair& pair);
double bore_value(const Setup& setup, int valve);

Judged judge(const Engine& engine, const LeastGaps& found, RunningRows running = RunningRows::all);

/// Of such an engine, nothing found yet: judge() of it tells which rows there are.
LeastGaps no_gaps(const Engine& engine);

/// What is running, where the rest is known and the engine file states something of it.
void add_running(const Setup& setup, const std::vector<ValvePair>& pairs, LeastGaps& found);

/// All of it, by the proven searches that a check makes.
LeastGaps least_gaps(const Setup& setup, const std::vector<ValvePair>& pairs);

}  // namespace eyebrow::study
