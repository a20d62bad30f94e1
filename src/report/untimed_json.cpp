// The contract "eyebrow.untimed/1".
#include <cmath>

#include "eyebrow/untimed_report.hpp"
#include "json.hpp"

namespace eyebrow {
namespace {

Json untimed_end(const OutOfTime& end) {
  return {{"by", end.all_round ? Json(nullptr) : json_number(end.by / kDegree)},
          {"teeth", end.all_round || !end.teeth ? Json(nullptr) : Json(*end.teeth)},
          {"all_round", end.all_round},
          {"now", end.now},
          {"gap", end.gap.empty() ? Json(nullptr) : Json(end.gap)}};
}

}  // namespace

std::string untimed_json(const UntimedResult& result) {
  Json out{{"schema", "eyebrow.untimed/1"},
           {"engine", result.engine},
           {"length_unit", "mm"},
           {"angle_unit", "degree"},
           {"clears", result.clears}};
  Json& valves = out["valves"] = Json::array();
  for (const UntimedValve& each : result.valves)
    valves.push_back({{"name", each.name},
                      {"cam", each.cam},
                      {"greatest_lift", json_number(each.greatest_lift)},
                      {"free_lift", json_number(each.free_lift)},
                      {"free_low", json_number(each.free_low)},
                      {"piston_depth", json_number(each.piston_depth)},
                      {"at_tdc", each.at_tdc},
                      {"faces", Json::array({each.face_valve, each.face_other})},
                      {"clears", each.clears},
                      {"closest", json_number(each.closest)},
                      {"early", untimed_end(each.early)},
                      {"late", untimed_end(each.late)},
                      {"loft", json_number(each.loft)},
                      {"loft_crank", std::isnan(each.loft) ? Json(nullptr) : json_number(each.loft_crank / kDegree)}});
  Json& pairs = out["pairs"] = Json::array();
  for (const UntimedPair& each : result.pairs)
    pairs.push_back({{"valves", Json::array({each.first, each.second})},
                     {"one_cam", each.one_cam},
                     {"least", json_number(each.least)},
                     {"low", json_number(each.low)},
                     {"lifts", each.one_cam ? Json(nullptr) : Json::array({each.lift, each.lift2})},
                     {"clears", each.clears},
                     {"loft", json_number(each.loft)}});
  Json& cams = out["cams"] = Json::array();
  for (const UntimedCam& each : result.cams)
    cams.push_back({{"name", each.name.empty() ? Json(nullptr) : Json(each.name)},
                    {"teeth", each.teeth == 0 ? Json(nullptr) : Json(each.teeth)},
                    {"early", untimed_end(each.early)},
                    {"late", untimed_end(each.late)}});
  out["bore"] = {{"valve", result.bore_valve}, {"least", json_number(result.bore)}};
  out["piston_to_head"] = json_number(result.head);
  out["lash"] = result.running_lash ? "running" : "zero";
  out["changed"] = result.changed;
  Json& warnings = out["warnings"] = Json::array();
  for (const Fault& warning : result.warnings) warnings.push_back(to_string(warning));
  // A name may hold bytes that are not UTF-8; they are replaced, never thrown about.
  return out.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace eyebrow
