// The contract "eyebrow.map/1".
#include <cmath>

#include "eyebrow/map_report.hpp"
#include "json.hpp"

namespace eyebrow {
namespace {

Json end_of(const MapResult& map, const AllowedRange::End& end) {
  return {{"at", json_number(end.at)},
          {"range_ends", end.open},
          {"short", end.gap < 0 ? Json(nullptr) : Json(gap_name(map.gaps[static_cast<std::size_t>(end.gap)]))},
          {"no_engine", end.trouble.empty() ? Json(nullptr) : Json(end.trouble)},
          {"contact_from", json_number(end.contact)}};
}

}  // namespace

std::string map_json(const MapResult& map) {
  Json out{{"schema", "eyebrow.map/1"}, {"engine", map.engine}, {"changed", map.changed}};
  Json& inputs = out["inputs"] = Json::array();
  for (const Varied& input : map.inputs)
    inputs.push_back({{"key", input.key},
                      {"unit", input.unit.empty() ? Json(nullptr) : Json(input.unit)},
                      {"now", json_number(input.now)},
                      {"values", input.values}});
  Json& gaps = out["gaps"] = Json::array();
  for (const MapGap& gap : map.gaps)
    gaps.push_back({{"name", gap_name(gap)},
                    {"what", gap.what},
                    {"valve", gap.valve},
                    {"required", json_number(gap.required)},
                    {"running", gap.running}});
  Json& cells = out["cells"] = Json::array();
  for (std::size_t n = 0; n < map.cells.size(); ++n) {
    const MapCell& cell = map.cells[n];
    Json at = Json::array(), found = Json::array(), margin = Json::array(), holds = Json::array();
    std::size_t rest = n;
    for (const Varied& input : map.inputs) {
      at.push_back(input.values[rest % input.values.size()]);
      rest /= input.values.size();
    }
    for (std::size_t i = 0; i < cell.found.size(); ++i) {
      found.push_back(json_number(cell.found[i]));
      margin.push_back(json_number(cell.margin[i]));
      holds.push_back(static_cast<bool>(cell.holds[i]));
    }
    cells.push_back({{"at", at},
                     {"found", found},
                     {"margin", margin},
                     {"holds", holds},
                     {"verdict", cell.possible() ? Json(to_string(cell.verdict)) : Json(nullptr)},
                     {"no_engine", cell.possible() ? Json(nullptr) : Json(cell.trouble)}});
  }
  Json& allowed = out["allowed"] = Json::array();
  for (const AllowedRange& range : map.allowed)
    allowed.push_back(
        {{"from", end_of(map, range.low)}, {"to", end_of(map, range.high)}, {"step", json_number(range.step)}});
  return out.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace eyebrow
