#include "remedies_json.hpp"

namespace eyebrow {
namespace {

Json remedy(const Remedy& of) {
  Json others = Json::array();
  for (const Remedy::Other& other : of.others)
    others.push_back({{"gap", gap_name(other.gap)}, {"change", json_number(other.change)}, {"holds", other.holds}});
  return {{"key", of.input.key},
          {"unit", of.input.unit.empty() ? Json(nullptr) : Json(of.input.unit)},
          {"now", json_number(of.input.now)},
          {"restores", of.restores},
          {"spoils", of.spoils()},
          {"value", json_number(of.value)},
          {"found", json_number(of.found)},
          {"looked_from", json_number(of.least)},
          {"looked_to", json_number(of.most)},
          {"no_engine", of.trouble.empty() ? Json(nullptr) : Json(of.trouble)},
          {"others", others}};
}

}  // namespace

Json json_remedies(const std::vector<GapRemedies>& remedies) {
  Json out = Json::array();
  for (const GapRemedies& of : remedies) {
    Json inputs = Json::array();
    for (const Remedy& each : of.remedies) inputs.push_back(remedy(each));
    out.push_back({{"gap", gap_name(of.gap)},
                   {"found", json_number(of.found)},
                   {"required", json_number(of.gap.required)},
                   {"inputs", inputs}});
  }
  return out;
}

}  // namespace eyebrow
