#include "study/sized_engine.hpp"

#include <algorithm>
#include <cmath>

#include "study/running.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

std::size_t kind_of(const AskedRow& row) {
  std::size_t kind = 0;
  while (kind + 1 < std::size(kGapKinds) && row.what != to_string(kGapKinds[kind])) ++kind;
  return kind;
}

}  // namespace

SizedEngine::SizedEngine(Engine of, const Setup& like, double deflection)
    : engine(std::move(of)),
      parts(rebuild_parts(engine, {}, like.engine, like.parts, deflection)),
      setup(like, engine, parts) {}

RoomKept::RoomKept(std::size_t valves) : bench(valves), running(valves) {
  for (std::vector<KindValues>* of : {&bench, &running})
    for (KindValues& values : *of) values.fill(0);
}

std::vector<AskedRow> valve_rows(const SizedEngine& sized, int valve, const RoomKept& kept) {
  LeastGaps found = no_gaps(sized.engine);
  const auto allowed = allowances(sized.engine);
  const auto i = static_cast<std::size_t>(valve);
  for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
    found.piston[i][k] = judged_least(sized.setup, valve, kGapKinds[k]);
    if (!found.piston_running.empty())
      found.piston_running[i][k] = running_value(sized.setup, allowed, valve, kGapKinds[k], found.piston[i][k]);
  }
  std::vector<AskedRow> own;
  for (AskedRow row : judge(sized.engine, found).rows) {
    if (row.valve != sized.engine.valves[i].name || row.what == "valve to bore") continue;
    if (const double more = kept.at(i, kind_of(row), row.running); more > 0 && !std::isnan(row.margin)) {
      row.required += more;
      row.margin -= more;
      row.holds = row.holds && row.margin >= -kAsAsked;
    }
    own.push_back(row);
  }
  return own;
}

bool leaves_all(const SizedEngine& sized, int valve, const RoomKept& kept) {
  if (!allowances(sized.engine).empty()) return all_hold(valve_rows(sized, valve, kept));
  const auto i = static_cast<std::size_t>(valve);
  const AskedValve& asked = sized.setup.valves[i].asked;
  const auto keeps_it = [&](std::size_t kind) {
    const double least = asked_of(asked, kGapKinds[kind]) + kept.at(i, kind, false);
    return keeps(sized.setup, valve, kGapKinds[kind], least - kAsAsked);
  };
  // Where there is no such gap, travel holds face, and closest holds radial.
  for (std::size_t kind = 0; kind < std::size(kGapKinds); ++kind) {
    if (keeps_it(kind)) continue;
    const bool may_be_none = kGapKinds[kind] == GapKind::face || kGapKinds[kind] == GapKind::radial;
    if (!may_be_none || !std::isnan(judged_least(sized.setup, valve, kGapKinds[kind]))) return false;
  }
  return true;
}

bool all_hold(const std::vector<AskedRow>& rows) {
  return std::ranges::all_of(rows, [](const AskedRow& row) { return row.holds; });
}

PocketMargins margins_of(const std::vector<AskedRow>& rows) {
  PocketMargins least;
  for (const AskedRow& row : rows) {
    if (std::isnan(row.margin) || (row.holds && row.margin < 0)) continue;
    double& of = row.what == "travel"   ? least.travel
                 : row.what == "face"   ? least.face
                 : row.what == "radial" ? least.radial
                                        : least.closest;
    of = std::min(of, row.margin);
  }
  return least;
}

std::string gives_way(const std::vector<AskedRow>& rows) {
  const AskedRow* least = nullptr;
  for (const AskedRow& row : rows)
    if (!row.holds && (least == nullptr || row.margin < least->margin)) least = &row;
  return least == nullptr ? "" : gap_name({least->what, least->valve, least->required, least->running});
}

std::vector<MetalMissing> metal_missing(const SizedEngine& sized, const std::string& pocket, const PocketWish& wish) {
  std::vector<MetalMissing> missing;
  if (!(wish.over_groove > 0 || wish.over_underside > 0 || wish.between > 0)) return missing;
  for (const MetalLeft& left : crown_left(sized.engine, sized.parts.crown)) {
    const bool own = left.pocket == pocket;
    if (!own && left.other != pocket + " pocket") continue;
    const double asked = left.to == MetalLeft::To::ring_groove && own ? wish.over_groove
                         : left.to == MetalLeft::To::underside && own ? wish.over_underside
                         : left.to == MetalLeft::To::neighbour        ? wish.between
                                                                      : 0;
    if (asked > 0)
      missing.push_back(
          {left.to, "metal to the " + (own ? name_beyond(left) : left.pocket + " pocket"), asked, asked - left.value});
  }
  return missing;
}

double thinnest_metal(const SizedEngine& sized, const std::string& pocket) {
  double least = INFINITY;
  for (const MetalLeft& left : crown_left(sized.engine, sized.parts.crown))
    if ((left.pocket == pocket || left.other == pocket + " pocket") && left.state != MetalLeft::State::not_known)
      least = std::min(least, left.value);
  return least;
}

}  // namespace eyebrow::study
