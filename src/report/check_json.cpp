// The contract "eyebrow.check/1". Few files see the JSON library: it costs seconds to compile.
#include <cmath>

#include "crown_left_json.hpp"
#include "eyebrow/effects_report.hpp"
#include "eyebrow/report.hpp"
#include "json.hpp"
#include "remedies_json.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

// Rounded to 1e-9 degrees, so that 12.5 degrees kept in radians read as 12.5 again.
Json degrees(double radians) {
  return json_number(std::isfinite(radians) ? std::round(radians / kDegree * 1e9) / 1e9 : radians);
}

Json numbers(const std::vector<double>& values) {
  Json out = Json::array();
  for (const double value : values) out.push_back(json_number(value));
  return out;
}

Json angles(const std::vector<double>& values) {
  Json out = Json::array();
  for (const double value : values) out.push_back(degrees(value));
  return out;
}

Json point(Vec3 p) {
  return Json::array({json_number(p.x), json_number(p.y), json_number(p.z)});
}

Json text_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

/// The gap just before and just after the crank angle where it jumps.
Json jump(const Minimum& least) {
  if (least.gap.status != GapStatus::jump) return nullptr;
  return {{"before", json_number(least.before)}, {"after", json_number(least.after)}};
}

Json minimum(const Minimum& least) {
  if (!least.gap.measured()) return nullptr;
  return {{"value", json_number(least.gap.value)},
          {"low", json_number(least.gap.low)},
          {"high", json_number(least.gap.high)},
          {"jump", jump(least)},
          {"crank", degrees(least.crank)},
          {"span", Json::array({degrees(least.span_from), degrees(least.span_to)})},
          {"lift", json_number(least.lift)},
          {"piston_depth", json_number(least.piston_depth)},
          {"entry", json_number(least.entry)},
          {"advance", least.advance ? degrees(*least.advance) : Json(nullptr)},
          {"point_valve", point(least.point_valve)},
          {"point_other", point(least.point_other)},
          {"faces", Json::array({least.face_valve, least.face_other})},
          {"clock", json_number(least.clock)},
          {"from_centre", json_number(least.from_centre)},
          {"open_least", std::isfinite(least.open_least)
                             ? Json{{"value", json_number(least.open_least)}, {"crank", degrees(least.open_crank)}}
                             : Json(nullptr)}};
}

Json pair_minimum(const Minimum& least) {
  Json out = minimum(least);
  if (!out.is_object()) return out;
  out["lift2"] = json_number(least.lift2);
  out["advance2"] = least.advance2 ? degrees(*least.advance2) : Json(nullptr);
  return out;
}

// The deepest place, not a gap: of a minimum's keys it has these two.
Json deepest_entry(const ValveResult& valve) {
  if (!std::isfinite(valve.deepest_entry)) return nullptr;
  return {{"value", json_number(valve.deepest_entry)},
          {"low", nullptr},
          {"high", nullptr},
          {"crank", degrees(valve.deepest_entry_crank)},
          {"lift", nullptr},
          {"piston_depth", nullptr},
          {"point_valve", nullptr},
          {"point_other", nullptr},
          {"faces", nullptr}};
}

Json interference(const std::optional<Interference>& found) {
  if (!found) return nullptr;
  return {{"withdraw", json_number(found->withdraw)},
          {"deepen", json_number(found->deepen)},
          {"widen", json_number(found->widen)},
          {"crank", degrees(found->crank)},
          {"volume", json_number(found->volume)},
          {"volume_error", json_number(found->volume_error)},
          {"place", point(found->place)},
          {"clock", json_number(found->clock)},
          {"from_centre", json_number(found->from_centre)}};
}

Json series(const Series& of) {
  return {{"crank", angles(of.crank)},
          {"lift", numbers(of.lift)},
          {"piston_depth", numbers(of.piston_depth)},
          {"travel", numbers(of.travel)},
          {"face", numbers(of.face)},
          {"radial", numbers(of.radial)},
          {"closest", numbers(of.closest)},
          {"entry", numbers(of.entry)},
          {"travel_from_seat", numbers(of.drop_travel)},
          {"greatest_lift", numbers(of.greatest_lift)}};
}

// Least gaps at the engine file's own cam position; null where the cam has no stops.
Json as_set(const ValveResult& of) {
  if (of.as_set.empty()) return nullptr;
  Json out = Json::object();
  for (const GapKind kind : kGapKinds) {
    Json least = minimum(of.as_set.at(kind));
    if (!least.is_null()) least["judged"] = json_number(of.as_set_judged.at(kind));
    out[to_string(kind)] = least;
  }
  return out;
}

Json card(const ValveResult& of) {
  if (of.card.empty()) return nullptr;
  Json out = Json::object();
  for (const auto& [kind, range] : of.card)
    out[to_string(kind)] = {{"least", json_number(range.least)}, {"greatest", json_number(range.greatest)}};
  return out;
}

Json tooth_out(const ValveResult& of) {
  if (!of.tooth_out) return nullptr;
  return {{"tooth", degrees(of.tooth_out->tooth)},
          {"early", json_number(of.tooth_out->early)},
          {"late", json_number(of.tooth_out->late)}};
}

Json running(const ValveResult& of) {
  if (of.running.empty()) return nullptr;
  Json out = Json::object();
  for (const auto& [kind, found] : of.running) {
    Json taken = Json::object();
    for (const auto& [name, length] : found.taken) taken[name] = json_number(length);
    out[to_string(kind)] = {{"value", json_number(found.value)},
                            {"crank", degrees(found.crank)},
                            {"lift", json_number(found.lift)},
                            {"taken", taken}};
  }
  return out;
}

Json allowance(const Allowance& of) {
  return {{"name", of.name},
          {"stated", of.stated},
          {"counted", of.on},
          {"source", text_or_null(of.source)},
          {"note", text_or_null(of.note)}};
}

Json valve(const ValveResult& of) {
  Json minima = Json::object(), status = Json::object(), reason = Json::object();
  const auto add = [&](const char* name, const Minimum& least) {
    minima[name] = minimum(least);
    status[name] = to_word(least.gap.status);
    reason[name] = text_or_null(least.reason);
  };
  for (const GapKind kind : kGapKinds) {
    const auto least = of.minimum.find(kind);
    add(to_string(kind), least == of.minimum.end() ? Minimum{} : least->second);
  }
  add("bore", of.bore);
  minima["entry"] = deepest_entry(of);
  return {{"name", of.name},
          {"role", to_string(of.role)},
          {"minimum", minima},
          {"status", status},
          {"reason", reason},
          {"as_set", as_set(of)},
          {"card", card(of)},
          {"tooth_out", tooth_out(of)},
          {"travel_at_other_lash", json_number(of.travel_at_other_lash)},
          {"running", running(of)},
          {"bore_running", json_number(of.bore_running)},
          {"interference", interference(of.interference)},
          {"overhangs_bore", of.overhangs_bore},
          {"series", series(of.series)}};
}

Json reserve_end(const ReserveEnd& of) {
  return {
      {"by", degrees(of.by)}, {"gap", of.gap.what.empty() ? Json(nullptr) : Json(gap_name(of.gap))}, {"now", of.now}};
}

Json reserve(const Reserve& of) {
  return {{"cam", of.cam},
          {"early", reserve_end(of.early)},
          {"late", reserve_end(of.late)},
          {"early_contact", reserve_end(of.early_contact)},
          {"late_contact", reserve_end(of.late_contact)}};
}

Json pair(const PairResult& of) {
  return {{"valves", Json::array({of.first, of.second})},
          {"minimum", pair_minimum(of.minimum)},
          {"running", json_number(of.running)},
          {"status", to_word(of.minimum.gap.status)},
          {"reason", text_or_null(of.minimum.reason)}};
}

Json asked(const AskedRow& row) {
  return {{"what", row.what},
          {"valve", text_or_null(row.valve)},
          {"required", json_number(row.required)},
          {"found", json_number(row.found)},
          {"margin", json_number(row.margin)},
          {"middle", json_number(row.middle)},
          {"running", row.running},
          {"holds", row.holds},
          {"note", text_or_null(row.note)}};
}

Json conditions(const Conditions& given) {
  Json advance = Json::object(), stops = Json::object(), drive = Json::object(), valves_from = Json::object();
  for (const auto& [name, file] : given.valves_from) valves_from[name] = file;
  for (const auto& [cam, late] : given.drive) drive[cam] = degrees(late);
  for (const auto& [cam, angle] : given.advance) advance[cam] = degrees(angle);
  for (const auto& [cam, at] : given.stops) stops[cam] = Json::array({degrees(at.latest), degrees(at.earliest)});
  return {{"cold", given.cold},
          {"rigid", given.rigid},
          {"lash", given.running_lash ? "running" : "zero"},
          {"step", degrees(given.step)},
          {"advance", advance},
          {"stops", stops},
          {"drive_late", drive},
          {"angle_milled", json_number(given.angle_milled)},
          {"gasket", json_number(given.gasket)},
          {"deck_clearance", json_number(given.deck_clearance)},
          {"crown_from", text_or_null(given.crown_from)},
          {"crown_mended", json_number(given.crown_mended)},
          {"valves_from", valves_from},
          {"changed", given.changed}};
}

template <typename Range, typename Make>
Json list(const Range& range, Make make) {
  Json out = Json::array();
  for (const auto& item : range) out.push_back(make(item));
  return out;
}

Json contract(const CheckResult& result) {
  return {{"schema", "eyebrow.check/1"},
          {"engine", result.engine},
          {"length_unit", "mm"},
          {"angle_unit", "degree"},
          {"valves", list(result.valves, valve)},
          {"pairs", list(result.pairs, pair)},
          {"head",
           {{"piston_to_head", json_number(result.piston_to_head)},
            {"running", json_number(result.piston_to_head_running)},
            {"checked", result.piston_to_head_checked}}},
          {"crown_left", result.crown_left.empty() ? Json(nullptr) : list(result.crown_left, json_metal)},
          {"compression", result.compression ? json_compression(*result.compression) : Json(nullptr)},
          {"reserves", list(result.reserves, reserve)},
          {"remedies", json_remedies(result.remedies)},
          {"allowances", list(result.allowances, allowance)},
          {"asked", list(result.asked, asked)},
          {"verdict", to_string(result.verdict)},
          {"conditions", conditions(result.conditions)},
          {"advice", list(result.advice, [](const Fault& each) { return Json(each.message); })},
          {"warnings", list(result.warnings, [](const Fault& fault) { return Json(to_string(fault)); })}};
}

/// One cylinder beside the others: what it is judged by, and each valve's least gaps, null where there is none.
Json cylinder(const CheckResult& result) {
  const auto value = [](const Minimum& least) {
    return least.gap.measured() ? json_number(least.gap.value) : Json(nullptr);
  };
  const AskedRow* tightest = tightest_row(result);
  const AskedRow none;
  const AskedRow& row = tightest ? *tightest : none;
  return {{"name", result.conditions.cylinder},
          {"verdict", to_string(result.verdict)},
          {"least_margin", json_number(row.margin)},
          {"what", text_or_null(row.what)},
          {"valve", text_or_null(row.valve)},
          {"running", row.running},
          {"required", tightest ? json_number(row.required) : Json(nullptr)},
          {"found", json_number(row.found)},
          {"valves", list(result.valves, [&](const ValveResult& of) {
             Json minima = Json::object();
             for (const auto& [kind, least] : of.minimum) minima[to_string(kind)] = value(least);
             minima["bore"] = value(of.bore);
             return Json{{"name", of.name}, {"minimum", minima}};
           })}};
}

/// What readings leave open of each gap, and what each input does to each: for a mm, a degree, or all of its value.
void add(const EffectsTold& effects, Json& out) {
  if (!effects.errors.empty()) {
    Json& readings = out["readings"] = Json::array();
    for (std::size_t gap = 0; gap < effects.gaps.size(); ++gap) {
      const ReadingError& of = effects.errors[gap];
      readings.push_back({{"gap", gap_name(effects.gaps[gap])},
                          {"plus_minus", json_number(of.plus_minus)},
                          {"most", of.most.empty() ? Json(nullptr) : Json(of.most)},
                          {"most_by", json_number(of.most_by)}});
    }
  }
  if (effects.influence.empty()) return;
  Json& influence = out["influence"] = Json::array();
  for (const ToldEffect& each : effects.influence) {
    using Per = ToldEffect::Per;
    const double size = each.per == Per::length ? 1 : each.per == Per::angle ? kDegree : std::fabs(each.value);
    Json gaps = Json::object();
    for (std::size_t gap = 0; gap < effects.gaps.size(); ++gap)
      gaps[gap_name(effects.gaps[gap])] = json_number(size * slope(each.effect, gap));
    influence.push_back({{"key", each.effect.key},
                         {"per", each.per == Per::length  ? "mm"
                                 : each.per == Per::angle ? "degree"
                                                          : "share"},
                         {"change", gaps}});
  }
}

std::string written(const Json& out) {
  // A name may hold bytes that are not UTF-8; they are replaced, never thrown about.
  return out.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace

std::string check_json(const CheckResult& result, const EffectsTold* effects) {
  Json out = contract(result);
  if (effects) add(*effects, out);
  return written(out);
}

std::string check_json(const CylindersResult& result, const EffectsTold* effects) {
  Json out = contract(result.each.at(result.worst));
  if (effects) add(*effects, out);
  out["cylinder"] = result.each[result.worst].conditions.cylinder;
  out["cylinders"] = list(result.each, cylinder);
  return written(out);
}

}  // namespace eyebrow
