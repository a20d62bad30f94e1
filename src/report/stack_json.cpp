// The contract "eyebrow.stack/1".
#include "eyebrow/stack_report.hpp"
#include "json.hpp"
#include "stack_words.hpp"

namespace eyebrow {
namespace {

Json input_of(const StackResult& stack, std::size_t i) {
  const Tolerance& of = stack.tolerances[i];
  const StackNumber number = stack_number(stack, i);
  return {{"key", of.key},
          {"unit", number.unit.empty() ? Json(nullptr) : Json(number.unit)},
          {"value", json_number(number.value)},
          {"shape", to_string(of.shape)},
          {"plus_minus", of.plus_minus > 0 ? json_number(of.plus_minus / number.size) : Json(nullptr)},
          {"deviation", of.deviation > 0 ? json_number(of.deviation / number.size) : Json(nullptr)},
          {"shared", of.shared.empty() ? Json(nullptr) : Json(of.shared)}};
}

Json worst_of(const StackResult& stack, const StackGap& gap) {
  Json at = Json::array();
  for (std::size_t i = 0; i < gap.worst.by.size(); ++i)
    at.push_back(json_number(gap.worst.by[i] / stack_number(stack, i).size));
  return {{"value", json_number(gap.worst.value)}, {"margin", json_number(gap.worst.value - gap.gap.required)},
          {"bound", json_number(gap.worst.bound)}, {"holds", gap.worst.holds},
          {"touches", gap.worst.touches},          {"inputs_moved_by", at}};
}

Json gap_of(const StackResult& stack, const StackGap& gap) {
  Json parts = Json::array();
  for (const StackPart& part : gap.parts)
    parts.push_back({{"driver", stack.drivers[part.driver].label},
                     {"variance_share", json_number(part.share)},
                     {"at_upper_end", json_number(part.up)},
                     {"at_lower_end", json_number(part.down)}});
  return {{"name", gap_name(gap.gap)},
          {"what", gap.gap.what},
          {"valve", gap.gap.valve},
          {"running", gap.gap.running},
          {"required", json_number(gap.gap.required)},
          {"nominal", json_number(gap.nominal)},
          {"worst", worst_of(stack, gap)},
          {"root_sum_square", json_number(gap.rss)},
          {"samples",
           {{"mean", json_number(gap.mean)},
            {"deviation", json_number(gap.deviation)},
            {"p0.1", json_number(gap.p01)},
            {"p1", json_number(gap.p1)},
            {"p50", json_number(gap.p50)},
            {"p99", json_number(gap.p99)},
            {"edges", gap.edges},
            {"counts", gap.counts}}},
          {"below_required",
           {{"count", gap.below},
            {"share", json_number(gap.share)},
            {"low", json_number(gap.low)},
            {"high", json_number(gap.high)}}},
          {"surface",
           {{"residual_greatest", json_number(gap.residual)},
            {"residual_rms", json_number(gap.residual_rms)},
            {"told_from_exact_engines", gap.exact}}},
          {"drivers", parts}};
}

}  // namespace

std::string stack_json(const StackResult& stack) {
  Json out{{"schema", "eyebrow.stack/1"}, {"engine", stack.engine}, {"changed", stack.changed}};
  Json& inputs = out["inputs"] = Json::array();
  for (std::size_t i = 0; i < stack.tolerances.size(); ++i) inputs.push_back(input_of(stack, i));
  out["samples"] = stack.samples;
  out["seed"] = stack.seed;
  out["engines_computed"] = stack.engines;
  out["engines_checked"] = stack.checked;
  out["engines_refused"] = stack.refused;
  out["samples_without_engine"] = stack.none;
  out["no_engine"] = stack.trouble.empty() ? Json(nullptr) : Json(stack.trouble);
  Json& gaps = out["gaps"] = Json::array();
  for (const StackGap& gap : stack.gaps) gaps.push_back(gap_of(stack, gap));
  out["holds_at_worst"] = stack.holds();
  return out.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace eyebrow
