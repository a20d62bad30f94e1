#include "eyebrow/check.hpp"

#include <fmt/format.h>

#include <cmath>

#include "eyebrow/timing.hpp"
#include "study/asked.hpp"
#include "study/bore.hpp"
#include "study/card_range.hpp"
#include "study/drop_table.hpp"
#include "study/interference.hpp"
#include "study/minima.hpp"
#include "study/other_lash.hpp"
#include "study/pairs.hpp"
#include "study/piston_gap.hpp"
#include "study/refine.hpp"
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

/// With every valve closed and the piston at its highest, overlap is no finding about the engine but a slip in its
/// numbers. Judged on the upper end of the interval: parts that just touch are measured like any others.
/// The middle of one valve's rim plane in the other's head: no distance need be looked for, and how deep two equal
/// solids in one place overlap takes long to tell.
void require_places_of_their_own(const Setup& setup) {
  std::vector<Fault> faults;
  const auto holds = [&](std::size_t i, std::size_t k) {
    const Frame rim = frame_about(setup.rim_centre(static_cast<int>(i), 0), setup.valves[i].place.up);
    const Vec3 off = setup.rim_centre(static_cast<int>(k), 0) - rim.origin;
    const Profile& profile = setup.parts.profiles[i];
    return std::hypot(dot(off, rim.x), dot(off, rim.y)) < profile.rim_radius - profile.edge_radius &&
           dot(off, rim.z) > -1e-9 && dot(off, rim.z) < profile.margin;
  };
  for (std::size_t i = 0; i < setup.valves.size(); ++i)
    for (std::size_t k = i + 1; k < setup.valves.size(); ++k)
      if (holds(i, k) || holds(k, i))
        faults.push_back({"", 0, 0,
                          fmt::format("valve \"{}\" stands in valve \"{}\": look at x, y, tilt and rim_height of both",
                                      setup.engine.valves[k].name, setup.engine.valves[i].name),
                          "valve." + setup.engine.valves[k].name});
  if (!faults.empty()) throw InputError(faults);
}

void require_apart_when_closed(const Setup& setup, const std::vector<ValvePair>& pairs) {
  const Engine& engine = setup.engine;
  std::vector<Fault> faults;
  for (const ValvePair& pair : pairs)
    if (pair.closed().high < 0)
      faults.push_back({"", 0, 0,
                        fmt::format("valves \"{}\" and \"{}\" run into each other when both are closed, by at least "
                                    "{}: look at x, y, head_diameter, tilt and rim_height of both",
                                    engine.valves[pair.first()].name, engine.valves[pair.second()].name,
                                    length_text(-pair.closed().value, engine.units)),
                        "valve." + engine.valves[pair.second()].name});
  for (std::size_t i = 0; i < setup.valves.size(); ++i) {
    const Pose closed{setup.motion.height(0), 0};
    const Gap gap = setup.valves[i].to_piston.gaps(closed, request_for(GapKind::closest, 0, true)).closest;
    if (gap.high < 0)
      faults.push_back({"", 0, 0,
                        fmt::format("valve \"{}\" is through the piston when it is closed and the piston at TDC, by at "
                                    "least {} ({}): look at rim_height or flush_lift, the gasket's thickness, "
                                    "deck_clearance and the pocket",
                                    engine.valves[i].name, length_text(-gap.value, engine.units),
                                    gap.other_face >= 0 ? setup.parts.crown.faces[gap.other_face].name : "crown"),
                        "valve." + engine.valves[i].name});
  }
  if (!faults.empty()) throw InputError(faults);
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

Conditions conditions_of(const Engine& engine, double step) {
  Conditions conditions;
  conditions.running_lash = engine.running_lash;
  conditions.step = step;
  for (const Cam& cam : engine.cams) {
    conditions.advance[cam.name] = cam.advance;
    if (cam.stops) conditions.stops[cam.name] = *cam.stops;
    if (const double late = drive_retard(engine, cam); late != 0) conditions.drive[cam.name] = late;
  }
  if (engine.head.angle_milled) conditions.angle_milled = engine.head.angle_milled->at_bore();
  conditions.gasket = engine.gasket.thickness;
  conditions.deck_clearance = engine.cylinder.deck_clearance;
  return conditions;
}

}  // namespace

CheckResult run_check(const Engine& engine, const Parts& parts, const CheckOptions& options) {
  require_step(options.step);
  const Setup setup(engine, parts);
  require_places_of_their_own(setup);
  const std::vector<ValvePair> pairs = valve_pairs(setup);
  require_apart_when_closed(setup, pairs);

  CheckResult result;
  result.engine = engine.name;
  result.units = engine.units;
  result.warnings = motion_doubts(engine, setup.motion);
  result.warnings.insert(result.warnings.end(), parts.warnings.begin(), parts.warnings.end());
  result.conditions = conditions_of(engine, options.step);

  const std::vector<double> cranks = cycle_grid(options.step);
  const double count = static_cast<double>(engine.valves.size());
  const double samples = static_cast<double>(cranks.size());
  result.allowances = allowances(engine);
  const bool running = !result.allowances.empty();
  const double leasts = kMinimaUnits * (running ? 3 : 2);
  Pacer pacer(options, count * (samples * (options.drop_table ? 1 + kDropUnits : 1) + leasts + kPairUnits) +
                           static_cast<double>(pairs.size()) * kPairUnits);

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

  result.piston_to_head = engine.gasket.thickness + engine.cylinder.deck_clearance;
  if (running) result.piston_to_head_running = running_head(engine, result.allowances, result.piston_to_head);
  result.piston_to_head_checked = "deck and gasket only";
  if (engine.piston.round_dome || engine.piston.roof_dome)
    result.piston_to_head_checked += "; dome to chamber not checked";
  if (!engine.piston.pockets.empty())
    result.crown_left = "NOT KNOWN: the metal between pocket and ring groove or underside is not measured";
  result.asked = asked_rows(engine, result);
  result.verdict = verdict_of(result);
  return result;
}

}  // namespace eyebrow
