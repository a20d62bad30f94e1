#include "report/sample.hpp"

#include <algorithm>
#include <stdexcept>

namespace eyebrow::testing {
namespace {

constexpr double kThou = kInch / 1000;

Minimum found(double value, double crank, double lift, double entry, const char* face_valve, const char* face_other,
              double clock, double from_centre) {
  Minimum least;
  least.gap.status = GapStatus::measured;
  least.gap.value = value;
  least.gap.low = value - 0.0005;
  least.gap.high = value + 0.0005;
  least.crank = crank * kDegree;
  least.span_from = (crank - 0.5) * kDegree;
  least.span_to = (crank + 0.5) * kDegree;
  least.lift = lift;
  least.piston_depth = 1.25;
  least.entry = entry;
  least.point_valve = {1, 2, 3};
  least.point_other = {1, 2, 3 - value};
  least.face_valve = face_valve;
  least.face_other = face_other;
  least.clock = clock;
  least.from_centre = from_centre;
  return least;
}

Minimum absent(GapStatus status, const char* reason) {
  Minimum least;
  least.gap.status = status;
  least.reason = reason;
  return least;
}

AskedRow row(const char* what, const char* valve, double required, double found) {
  AskedRow row;
  row.what = what;
  row.valve = valve;
  row.required = required;
  row.found = found;
  row.margin = found - required;
  row.holds = row.margin >= 0;
  return row;
}

}  // namespace

CheckResult sample_result() {
  CheckResult result;
  result.engine = "sample engine (invented)";
  result.units = LengthUnit::inch;

  ValveResult intake;
  intake.name = "intake";
  intake.role = Role::intake;
  intake.minimum[GapKind::travel] =
      found(108 * kThou, 9.4, 211 * kThou, 12 * kThou, "rim edge", "intake pocket floor", 4.5, 980 * kThou);
  intake.minimum[GapKind::face] =
      found(102 * kThou, 10.1, 215 * kThou, 14 * kThou, "valve face", "intake pocket floor", 6, 400 * kThou);
  intake.minimum[GapKind::radial] =
      found(53 * kThou, 12.5, 230 * kThou, 20 * kThou, "rim", "intake pocket wall", 2.25, 1010 * kThou);
  intake.minimum[GapKind::closest] =
      found(51 * kThou, 12.6, 231 * kThou, 20 * kThou, "rim", "intake pocket mouth", 2.25, 1010 * kThou);
  intake.deepest_entry = 35 * kThou;
  intake.deepest_entry_crank = 15 * kDegree;
  intake.bore = found(61 * kThou, 104, 688 * kThou, NAN, "rim", "bore wall", 3, 1010 * kThou);
  intake.series.crank = {-1 * kDegree, 0, 1 * kDegree};
  intake.series.lift = {150 * kThou, 155 * kThou, 160 * kThou};
  intake.series.piston_depth = {0.01, 0, 0.01};
  intake.series.travel = {130 * kThou, 128 * kThou, 126 * kThou};
  intake.series.face = {121 * kThou, 119 * kThou, 117 * kThou};
  intake.series.radial = {NAN, 70 * kThou, 69 * kThou};
  intake.series.closest = {66 * kThou, 65 * kThou, 64 * kThou};
  intake.series.entry = {-3 * kThou, 0, 3 * kThou};
  intake.series.drop_travel = {280 * kThou, 283 * kThou, 286 * kThou};
  intake.series.greatest_lift = {200 * kThou, 203 * kThou, NAN};

  ValveResult exhaust;
  exhaust.name = "exhaust";
  exhaust.role = Role::exhaust;
  exhaust.minimum[GapKind::travel] =
      found(135 * kThou, -8, 190 * kThou, -2 * kThou, "rim edge", "exhaust pocket floor", 11.95, 790 * kThou);
  exhaust.minimum[GapKind::face] =
      found(130 * kThou, -8.2, 191 * kThou, -2 * kThou, "valve face", "exhaust pocket floor", NAN, 0.1);
  exhaust.minimum[GapKind::radial] = absent(GapStatus::not_in_reach, "not in reach");
  exhaust.minimum[GapKind::closest] =
      found(72 * kThou, -7, 180 * kThou, -4 * kThou, "rim edge", "exhaust pocket mouth", 2, 800 * kThou);
  exhaust.deepest_entry = -2 * kThou;
  exhaust.deepest_entry_crank = -8 * kDegree;
  exhaust.bore = found(85 * kThou, -110, 672 * kThou, NAN, "rim", "bore wall", 9, 800 * kThou);

  PairResult pair;
  pair.first = "intake";
  pair.second = "exhaust";
  pair.minimum = found(95 * kThou, 2, 160 * kThou, NAN, "rim", "rim", NAN, NAN);
  pair.minimum.lift2 = 140 * kThou;

  result.valves = {intake, exhaust};
  result.pairs = {pair};
  result.piston_to_head = 41 * kThou;
  result.piston_to_head_checked = "deck and gasket only; dome to chamber not checked";
  MetalLeft groove;
  groove.pocket = "intake";
  groove.state = MetalLeft::State::measured;
  groove.value = 71 * kThou;
  groove.low = groove.value - 0.0001;
  groove.point = {30, 20, -150 * kThou};
  groove.beyond = {31, 21, -200 * kThou};
  groove.face = "intake pocket corner";
  MetalLeft underside;
  underside.pocket = "intake";
  underside.to = MetalLeft::To::underside;
  underside.missing = "piston.underside";
  result.crown_left = {groove, underside};
  result.asked = {row("travel", "intake", 80 * kThou, 108 * kThou),
                  row("face", "intake", 80 * kThou, 102 * kThou),
                  row("radial", "intake", 50 * kThou, 53 * kThou),
                  row("closest", "intake", 50 * kThou, 51 * kThou),
                  row("travel", "exhaust", 120 * kThou, 135 * kThou),
                  row("face", "exhaust", 120 * kThou, 130 * kThou),
                  row("radial", "exhaust", 50 * kThou, NAN),
                  row("closest", "exhaust", 50 * kThou, 72 * kThou),
                  row("valve to valve", "intake / exhaust", 30 * kThou, 95 * kThou),
                  row("valve to bore", "intake", 30 * kThou, 61 * kThou),
                  row("valve to bore", "exhaust", 30 * kThou, 85 * kThou),
                  row("piston to head", "", 40 * kThou, 41 * kThou)};
  AskedRow& absent_row = asked_row(result, "radial", "exhaust");
  absent_row.holds = true;
  absent_row.note = "not in reach: the closest gap holds this";
  result.conditions.step = kDegree;
  result.conditions.advance = {{"cam", 0}};
  result.conditions.gasket = 41 * kThou;
  return result;
}

AskedRow& asked_row(CheckResult& result, const std::string& what, const std::string& valve) {
  for (AskedRow& row : result.asked)
    if (row.what == what && row.valve == valve) return row;
  throw std::out_of_range(what + " of " + valve);
}

void set_found(CheckResult& result, GapKind kind, double found) {
  result.valves.front().minimum.at(kind).gap.value = found;
  AskedRow& row = asked_row(result, to_string(kind), result.valves.front().name);
  row.found = found;
  row.margin = found - row.required;
  row.holds = row.margin >= 0;
}

CheckResult sample_contact() {
  CheckResult result = sample_result();
  for (const GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest}) set_found(result, kind, -12 * kThou);
  Interference found;
  found.withdraw = 12 * kThou;
  found.deepen = 11.5 * kThou;
  found.crank = 9.4 * kDegree;
  found.volume = 12.345;
  found.volume_error = 0.0123;
  found.place = {4, 5, -6};
  found.clock = 4.5;
  found.from_centre = 980 * kThou;
  result.valves.front().interference = found;
  result.verdict = Verdict::contact;
  return result;
}

}  // namespace eyebrow::testing
