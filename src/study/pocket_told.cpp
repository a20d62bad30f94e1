// What binds sized pockets, and all that is told of them.
#include <algorithm>
#include <cmath>

#include "study/asked.hpp"
#include "study/pairs.hpp"
#include "study/pocket_sizer.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

constexpr double kTellMetal = 0.001;  // mm: less of it missing is not told
constexpr double kCostMm = 0.1, kCostInch = 0.005 * kInch;
constexpr double kCostLook = 0.1;  // mm: first step of the search by the model
/// A place is looked at so many steps over. Rounding leaves in hand half a step of the place along each axis, half a
/// step of the radius, and a whole one beside a cutter that cannot be made wider: 2.2 in all, which a wall that the
/// pocket moves to at 45 degrees shows after 3.1. What is not short 16 steps over (0.08 mm, 0.0016 in) is no concern of
/// who cuts it.
constexpr long kPlaceSteps[] = {4, 16};

}  // namespace

PocketResult PocketSizer::told(const CheckOptions& options) {
  begin(options);
  PocketResult result;
  result.engine_name = given_.name;
  result.units = given_.units;
  result.wish = wish_;
  result.step = step_ * unit_;
  result.engine = engine_;
  for (SizedPocket& one : pockets_) bind_sizes(one);
  bind_places();
  result.pockets = pockets_;
  const SizedEngine last(engine_, before_, eyebrow::kDeflection);
  const auto pairs = valve_pairs(last.setup);
  const Judged judged = judge(last.engine, least_gaps(last.setup, pairs));
  result.verdict = judged.verdict;
  for (const AskedRow& row : judged.rows)
    if (!row.running || row.required > 0 || !row.holds) result.asked.push_back(row);
  result.left_before = crown_left(given_, given_parts_.crown);
  result.left = crown_left(last.engine, last.parts.crown);
  const double plain = void_of(plain_.parts.crown);
  result.volume_before = void_of(given_parts_.crown) - plain;
  result.volume = void_of(last.parts.crown) - plain;
  result.compression_before = compression(given_, given_parts_.crown);
  result.compression = compression(last.engine, last.parts.crown);
  for (SizedPocket& one : result.pockets) {
    const Valve& valve = valve_of(one);
    if (!one.needed && !one.before) continue;
    const PocketModel model(last.setup, one.valve, tilted_axis(one.pocket.tilt, one.pocket.lean),
                            one.pocket.corner_radius);
    one.volume = model.volume({one.pocket.x, one.pocket.y, one.pocket.diameter / 2, floor_of(one.pocket, valve)});
    for (const AskedRow& row : judged.rows)
      if (row.valve == valve.name && row.what != "valve to bore" && !row.holds)
        one.misses.push_back({gap_name({row.what, row.valve, row.required, row.running})});
    for (const MetalMissing& missing : metal_missing(last, one.pocket.name, wish_))
      if (missing.by > kTellMetal) one.misses.push_back({missing.what, missing.asked, missing.asked - missing.by});
    add_costs(result, one, model);
  }
  return result;
}

/// What is taken from the crown under its flat, less what stands over it; the solids' bottoms differ.
double PocketSizer::void_of(const Crown& crown) const {
  for (const Face& face : crown.faces)
    if (face.group == Group::underside) return -face.frame.origin.z * kPi * radius_ * radius_ - crown.volume;
  return NAN;
}

/// What of the asked gaps and metal falls short with this pocket; empty where nothing does.
std::string PocketSizer::breaks(const SizedPocket& one, const Pocket& pocket) {
  try {
    const auto sized = made(one, pocket);
    const std::string gap = gives_way(rows(*sized, one));
    const std::vector<MetalMissing> missing = gap.empty() ? metal_short(*sized, one) : std::vector<MetalMissing>{};
    return missing.empty() ? gap : std::ranges::max_element(missing, {}, &MetalMissing::by)->what;
  } catch (const InputError& error) {
    return error.faults().front().message;
  } catch (const MachineError&) {
    return "no such solid";
  }
}

void PocketSizer::bind_sizes(SizedPocket& one) {
  if (!one.needed) {
    one.depth.by = one.diameter.by = "no pocket is needed";
    return;
  }
  if (keeps_shape(one) && !one.changed) {
    one.depth.by = one.diameter.by = "as it is";
    return;
  }
  const Numbers least = least_numbers(one);
  const Numbers now{steps(one.pocket.diameter, true), steps(one.pocket.depth, true)};
  one.depth.by = keeps_shape(one) && now.second == least.second
                     ? "as it is"
                     : breaks(one, at(one.pocket, {now.first, now.second - 1}));
  if (!wish_.diameters.empty())
    one.diameter.by = "the cutters given";
  else
    one.diameter.by = keeps_shape(one) && now.first == least.first
                          ? "as it is"
                          : breaks(one, at(one.pocket, {now.first - 1, now.second}));
}

void PocketSizer::bind_places() {
  std::vector<std::pair<SizedPocket*, PlaceBound*>> ways;
  for (SizedPocket& one : pockets_) {
    one.place.clear();
    if (!one.needed || !one.changed) continue;
    for (const char axis : {'x', 'y'})
      for (const int way : {-1, 1}) one.place.push_back({axis, way, "", NAN});
    for (PlaceBound& bound : one.place) ways.emplace_back(&one, &bound);
  }
  run_tasks(ways.size(), 1, *pacer_, 0, [&](std::size_t i) {
    const auto& [one, bound] = ways[i];
    for (const long over : kPlaceSteps) {
      Pocket moved = one->pocket;
      (bound->axis == 'x' ? moved.x : moved.y) += bound->way * value(over);
      bound->by = breaks(*one, moved);
      bound->at = value(over);
      if (!bound->by.empty()) break;
    }
  });
}

void PocketSizer::add_costs(PocketResult& result, const SizedPocket& one, const PocketModel& model) const {
  const auto choices = choices_.find(one.valve);
  if (choices == choices_.end()) return;
  const Choice& chosen = choices->second[chosen_.at(one.valve)];
  const double less = given_.units == LengthUnit::inch ? kCostInch : kCostMm;
  const Valve& valve = valve_of(one);
  const AskedValve& stated = before_.valves[static_cast<std::size_t>(one.valve)].asked;
  const double now = model.volume(best_shape(given_.piston, model, chosen.limits, chosen.shape, kCostLook));
  for (const bool axial : {true, false}) {
    PocketLimits changed = chosen.limits;
    AskedValve& asked = changed.asked;
    if (axial)
      asked.travel -= less, asked.face -= less;
    else
      asked.radial -= less, asked.closest -= less;
    AskedCost cost;
    cost.gap = {axial ? "travel and face" : "radial and closest", valve.name, axial ? stated.travel : stated.radial,
                false};
    cost.less = less;
    cost.volume = now - model.volume(best_shape(given_.piston, model, changed, chosen.shape, kCostLook));
    if (result.compression) {
      Compression with_less = *result.compression;
      with_less.crown -= cost.volume;
      cost.ratio = with_less.ratio() - result.compression->ratio();
    }
    result.costs.push_back(cost);
  }
}

}  // namespace eyebrow::study
