#include "eyebrow/check.hpp"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>

#include "eyebrow/timing.hpp"
#include "study/asked.hpp"
#include "study/bore.hpp"
#include "study/card_range.hpp"
#include "study/drop_table.hpp"
#include "study/interference.hpp"
#include "study/minima.hpp"
#include "study/other_lash.hpp"
#include "study/pairs.hpp"
#include "study/possible.hpp"
#include "study/refine.hpp"
#include "study/reserve.hpp"
#include "study/running_others.hpp"
#include "study/setup.hpp"
#include "study/sweep.hpp"
#include "study/tasks.hpp"
#include "study/tolerances.hpp"
#include "study/tooth_out.hpp"

namespace eyebrow {
namespace {

using namespace study;

/// Progress of one pair or one valve's bore, in samples of the sweep.
constexpr double kPairUnits = 100;

void require_step(double step) {
  if (step >= kLeastStep && step <= kGreatestStep) return;  // NaN compares false
  throw InputError({{"", 0, 0,
                     fmt::format("step of {} degrees: allowed are {} to {} degrees of crank", step / kDegree,
                                 kLeastStep / kDegree, kGreatestStep / kDegree)}});
}

void warn_of_overhang(const Setup& setup, CheckResult& result) {
  for (std::size_t i = 0; i < result.valves.size(); ++i) {
    const double beyond = overhang(setup, static_cast<int>(i));
    ValveResult& valve = result.valves[i];
    valve.overhangs_bore = beyond > 0;
    if (!valve.overhangs_bore) continue;
    result.warnings.push_back(
        {"", 0, 0,
         fmt::format("valve \"{}\" overhangs the bore by {} when closed; its gap to the bore, the notches and the "
                     "gasket is measured as it opens",
                     valve.name, length_text(beyond, setup.engine.units)),
         "valve." + valve.name});
  }
}

/// Without the folders, which say nothing of the engine.
std::string file_name(const std::string& path) {
  return std::filesystem::path(path).filename().string();
}

Conditions conditions_of(const Engine& engine, const Crown& crown, double step) {
  Conditions conditions;
  conditions.running_lash = engine.running_lash;
  conditions.step = step;
  for (const Cam& cam : engine.cams) {
    conditions.advance[cam.name] = cam.advance;
    if (cam.stops) conditions.stops[cam.name] = *cam.stops;
    if (const double late = drive_retard(engine, cam); late != 0) conditions.drive[cam.name] = late;
  }
  if (engine.head.angle_milled) conditions.angle_milled = engine.head.angle_milled->at_bore();
  if (engine.piston.step) conditions.crown_from = file_name(engine.piston.step->file);
  if (crown.by_mesh) conditions.crown_mended = crown.error;
  for (const Valve& valve : engine.valves)
    if (valve.step) conditions.valves_from[valve.name] = file_name(valve.step->file);
  conditions.gasket = engine.gasket.thickness;
  conditions.deck_clearance = engine.cylinder.deck_clearance;
  return conditions;
}

}  // namespace

CheckResult run_check(const Engine& engine, const Parts& parts, const CheckOptions& options) {
  require_step(options.step);
  Setup setup(engine, parts);
  require_places_of_their_own(setup);
  const std::vector<ValvePair> pairs = valve_pairs(setup);
  require_apart_when_closed(setup, pairs);

  CheckResult result;
  result.engine = engine.name;
  result.units = engine.units;
  result.warnings = motion_doubts(engine, setup.motion);
  result.warnings.insert(result.warnings.end(), parts.warnings.begin(), parts.warnings.end());
  result.conditions = conditions_of(engine, parts.crown, options.step);

  const std::vector<double> cranks = cycle_grid(options.step);
  const double count = static_cast<double>(engine.valves.size());
  const double samples = static_cast<double>(cranks.size());
  result.allowances = allowances(engine);
  const bool running = !result.allowances.empty();
  const double leasts = kMinimaUnits * (running ? 3 : 2);
  Pacer pacer(options, count * (samples * (options.drop_table ? 1 + kDropUnits : 1) + leasts + kPairUnits) +
                           static_cast<double>(pairs.size()) * kPairUnits +
                           static_cast<double>(engine.cams.size()) * kReserveUnits);
  setup.poll = [&pacer] { pacer.poll(); };

  std::vector<Series> all = sweep(setup, cranks, pacer);
  result.valves.resize(engine.valves.size());
  for (std::size_t i = 0; i < result.valves.size(); ++i) {
    result.valves[i].name = engine.valves[i].name;
    result.valves[i].role = engine.valves[i].role;
    result.valves[i].series = std::move(all[i]);
  }
  find_minima(setup, result.valves, pacer);
  find_card_ranges(setup, result.valves, pacer);
  for (std::size_t i = 0; i < result.valves.size(); ++i) {
    result.valves[i].tooth_out = tooth_out(setup, static_cast<int>(i));
    result.valves[i].travel_at_other_lash = travel_at_other_lash(setup, static_cast<int>(i));
  }
  result.reserves = reserves(setup, pairs, pacer);
  if (running) find_running(setup, result.allowances, result.valves, pacer);
  result.advice = card_advice(setup, result.valves);
  find_interference(setup, result);
  run_tasks(result.valves.size(), 1, pacer, kPairUnits, [&](std::size_t i) {
    const int valve = static_cast<int>(i);
    result.valves[i].bore = bore_minimum(setup, valve);
    if (running)
      result.valves[i].bore_running = running_bore(setup, result.allowances, valve, result.valves[i].bore.gap.value);
  });
  result.pairs.resize(pairs.size());
  run_tasks(pairs.size(), 1, pacer, kPairUnits, [&](std::size_t i) {
    PairResult& pair = result.pairs[i] = pair_result(setup, pairs[i]);
    if (running) pair.running = running_pair(setup, result.allowances, pairs[i], pair.minimum.gap.value);
  });
  if (options.drop_table) fill_drop_table(setup, result.valves, pacer);
  warn_of_overhang(setup, result);

  result.piston_to_head = piston_to_head(engine);
  if (running) result.piston_to_head_running = running_head(engine, result.allowances, result.piston_to_head);
  result.piston_to_head_checked = "deck and gasket only";
  if (engine.piston.round_dome || engine.piston.roof_dome || engine.piston.step)
    result.piston_to_head_checked += "; dome to chamber not checked";
  result.crown_left = crown_left(engine, parts.crown);
  if (!engine.piston.step)
    result.compression = compression(engine, parts.crown);
  else if (engine.head.chamber_volume)
    result.warnings.push_back({"", 0, 0,
                               "the compression is not told: what a crown from STEP displaces is not worked out",
                               "head.chamber_volume"});
  result.asked = asked_rows(engine, result);
  result.verdict = verdict_of(result);
  return result;
}

}  // namespace eyebrow
