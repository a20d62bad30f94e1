#include "crown_left_json.hpp"
#include "eyebrow/pocket_report.hpp"
#include "json.hpp"
#include "pocket_words.hpp"

namespace eyebrow {
namespace {

Json json_pocket(const Pocket& of) {
  return {{"name", of.name},
          {"x", json_number(of.x)},
          {"y", json_number(of.y)},
          {"tilt", json_number(of.tilt / kDegree)},
          {"lean", json_number(of.lean / kDegree)},
          {"diameter", json_number(of.diameter)},
          {"depth", json_number(of.depth)},
          {"depth_to", depth_word(of.depth_to)},
          {"corner_radius", json_number(of.corner_radius)}};
}

Json json_place(const std::vector<PlaceBound>& place) {
  Json out = Json::array();
  for (const PlaceBound& bound : place)
    out.push_back({{"axis", std::string(1, bound.axis)},
                   {"way", bound.way < 0 ? "less" : "more"},
                   {"bound", bound.by.empty() ? Json(nullptr) : Json(bound.by)},
                   {"at", json_number(bound.at)}});
  return out;
}

Json json_walls(const std::vector<MetalLeft>& walls) {
  Json out = Json::array();
  for (const MetalLeft& left : walls) out.push_back(json_metal(left));
  return out;
}

Json json_within(const PocketsWithin& within) {
  Json gaps = Json::array();
  for (const GapWithin& gap : within.gaps) {
    Json by = Json::array();
    for (const auto& [driver, takes] : gap.by) by.push_back({{"driver", driver}, {"takes", json_number(takes)}});
    gaps.push_back({{"gap", gap_name(gap.gap)},
                    {"required", json_number(gap.gap.required)},
                    {"kept_in_hand", json_number(gap.kept)},
                    {"nominal", json_number(gap.nominal)},
                    {within.share ? "share_has" : "worst", json_number(gap.least)},
                    {"holds", gap.holds},
                    {"mostly", by}});
  }
  Json out{{"condition", within.share ? "share" : "worst case"}, {"gaps", gaps}};
  if (within.share)
    out["share"] = {{"asked", *within.share},         {"found", json_number(within.found)},
                    {"low", json_number(within.low)}, {"high", json_number(within.high)},
                    {"samples", within.samples},      {"seed", within.seed}};
  out["engines_computed"] = within.engines;
  out["engines_checked"] = within.checked;
  out["surface_off"] = json_number(within.off);
  out["rounds"] = within.rounds;
  out["shown"] = within.holds;
  out["why_not"] = within.holds ? Json(nullptr) : Json(within.why);
  return out;
}

}  // namespace

std::string pocket_json(const PocketResult& result) {
  Json pockets = Json::array(), asked = Json::array(), costs = Json::array();
  const auto json_misses = [](const std::vector<Miss>& misses) {
    Json out = Json::array();
    for (const Miss& miss : misses)
      out.push_back({{"what", miss.what}, {"asked", json_number(miss.asked)}, {"found", json_number(miss.found)}});
    return out;
  };
  for (const SizedPocket& one : result.pockets)
    pockets.push_back({{"valve", result.engine.valves[static_cast<std::size_t>(one.valve)].name},
                       {"before", one.before ? json_pocket(*one.before) : Json(nullptr)},
                       {"needed", one.needed},
                       {"pocket", one.needed || one.before ? json_pocket(one.pocket) : Json(nullptr)},
                       {"changed", one.changed},
                       {"depth_bound", one.depth.by},
                       {"diameter_bound", one.diameter.by},
                       {"place_bounds", json_place(one.place)},
                       {"volume", json_number(one.volume)},
                       {"misses", json_misses(one.misses)}});
  for (const AskedRow& row : result.asked)
    asked.push_back({{"gap", gap_name({row.what, row.valve, row.required, row.running})},
                     {"required", json_number(row.required)},
                     {"found", json_number(row.found)},
                     {"margin", json_number(row.margin)},
                     {"holds", row.holds}});
  for (const AskedCost& cost : result.costs)
    costs.push_back({{"valve", cost.gap.valve},
                     {"gaps", cost.gap.what},
                     {"less", json_number(cost.less)},
                     {"volume", json_number(cost.volume)},
                     {"ratio", json_number(cost.ratio)}});
  const Json out = {
      {"schema", "eyebrow.pocket/1"},
      {"engine", result.engine_name},
      {"length_unit", "mm"},
      {"angle_unit", "degree"},
      {"step", result.step},
      {"pockets", pockets},
      {"asked", asked},
      {"verdict", to_string(result.verdict)},
      {"fits", result.fits()},
      {"crown_left_before", json_walls(result.left_before)},
      {"crown_left", json_walls(result.left)},
      {"volume_before", json_number(result.volume_before)},
      {"volume", json_number(result.volume)},
      {"compression_before", result.compression_before ? json_compression(*result.compression_before) : Json(nullptr)},
      {"compression", result.compression ? json_compression(*result.compression) : Json(nullptr)},
      {"costs", costs},
      {"within_tolerances", result.within ? json_within(*result.within) : Json(nullptr)},
      {"changed", result.changed}};
  return out.dump(2) + '\n';
}

}  // namespace eyebrow
