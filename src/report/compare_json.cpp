// The contract "eyebrow.compare/1".
#include <cmath>

#include "eyebrow/compare_report.hpp"
#include "json.hpp"
#include "remedies_json.hpp"

namespace eyebrow {
namespace {

Json json_angle(double radians) {
  return json_number(radians / kDegree);
}

const char* json_other_keys(DifferingInput::OtherKeys other) {
  switch (other) {
    case DifferingInput::OtherKeys::no:
      return "no";
    case DifferingInput::OtherKeys::same:
      return "same";
    case DifferingInput::OtherKeys::different:
      return "different";
    case DifferingInput::OtherKeys::unknown:
      break;
  }
  return "unknown";
}

Json json_gap(const ComparedGap& gap) {
  Json of = Json::array();
  for (std::size_t e = 0; e < gap.of.size(); ++e) {
    const ComparedGap::Of& its = gap.of[e];
    of.push_back(its.there ? Json{{"required", json_number(its.required)},
                                  {"found", json_number(its.found)},
                                  {"margin", json_number(its.margin)},
                                  {"holds", its.holds},
                                  {"difference", json_number(gap.difference(e))}}
                           : Json(nullptr));
  }
  return {{"name", gap.name}, {"what", gap.what}, {"valve", gap.valve}, {"running", gap.running}, {"engines", of}};
}

Json json_input(const DifferingInput& input) {
  Json stated = Json::array();
  for (const DifferingInput::Stated& each : input.stated)
    stated.push_back(each.text.empty() ? Json(nullptr)
                                       : Json{{"text", each.text},
                                              {"value", json_number(each.value)},
                                              {"unit", each.unit.empty() ? Json(nullptr) : Json(each.unit)}});
  return {
      {"key", input.key}, {"stated", stated}, {"also", input.also}, {"other_keys", json_other_keys(input.other_keys)}};
}

Json json_landing(const Landing& of) {
  Json around = Json::array();
  for (const double gap : of.rim_to_wall) around.push_back(json_number(gap));
  return {{"engine", of.engine + 1},
          {"valve", of.valve},
          {"piston", of.piston + 1},
          {"pocket", of.pocket.empty() ? Json(nullptr) : Json(of.pocket)},
          {"x", json_number(of.x)},
          {"y", json_number(of.y)},
          {"offset", json_number(of.offset())},
          {"clock", json_number(of.clock)},
          {"tilt_apart", json_angle(of.tilt_apart)},
          {"radius_more", json_number(of.radius_more)},
          {"rim_to_wall", around}};
}

}  // namespace

std::string compare_json(const Comparison& comparison) {
  Json out{{"schema", "eyebrow.compare/1"}, {"length_unit", "mm"}, {"angle_unit", "degree"}};
  Json& engines = out["engines"] = Json::array();
  for (std::size_t e = 0; e < comparison.checks.size(); ++e) {
    const CheckResult& check = comparison.checks[e];
    Json warnings = Json::array();
    for (const Fault& warning : check.warnings) warnings.push_back(to_string(warning));
    engines.push_back({{"engine", check.engine},
                       {"file", comparison.files[e]},
                       {"verdict", to_string(check.verdict)},
                       {"changed", check.conditions.changed},
                       {"remedies", json_remedies(check.remedies)},
                       {"warnings", warnings}});
  }
  Json& gaps = out["gaps"] = Json::array();
  for (const ComparedGap& gap : comparison.gaps) gaps.push_back(json_gap(gap));
  Json& inputs = out["inputs"] = Json::array();
  for (const DifferingInput& input : comparison.inputs) inputs.push_back(json_input(input));
  Json& lifts = out["lifts"] = Json::array();
  for (const LiftDifference& each : comparison.lifts)
    lifts.push_back({{"engine", each.engine + 1},
                     {"valve", each.valve},
                     {"most", json_number(each.most)},
                     {"crank", json_angle(each.crank)},
                     {"near_tdc", json_number(each.near_tdc)},
                     {"near_crank", json_angle(each.near_crank)}});
  Json& landings = out["landings"] = Json::array();
  for (const Landing& each : comparison.landings) landings.push_back(json_landing(each));
  out["verdict"] = to_string(comparison.verdict());
  // A name may hold bytes that are not UTF-8; they are replaced, never thrown about.
  return out.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace eyebrow
