#include "scene/lit_gaps.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/words.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kSameCrank = 1e-9, kSameLift = 1e-6;

/// What is judged where the cam's card leaves the gap open: less than what the middle curve shows. Empty: nothing else.
std::string judged_words(const CheckResult& check, const std::string& valve, GapKind kind, const Format& format) {
  const Lengths lengths(format);
  for (const AskedRow& row : check.asked)
    if (!row.running && row.valve == valve && row.what == to_string(kind) && std::isfinite(row.middle) &&
        lengths.gap(row.found) != lengths.gap(row.middle))
      return fmt::format("; by its card as little as {}", lengths.gap(row.found));
  return "";
}

}  // namespace

PoseGaps gaps_at(const study::Setup& setup, int valve, double crank) {
  GapRequest request;
  request.reach = setup.valves.at(static_cast<std::size_t>(valve)).asked.reach;
  return setup.valves.at(static_cast<std::size_t>(valve)).to_piston.gaps(setup.pose(valve, crank), request);
}

const Minimum* least_here(const study::Setup& setup, const CheckResult* check, int valve, GapKind kind, double crank) {
  if (check == nullptr || static_cast<std::size_t>(valve) >= check->valves.size()) return nullptr;
  const auto& minima = check->valves[static_cast<std::size_t>(valve)].minimum;
  const auto at = minima.find(kind);
  if (at == minima.end() || !at->second.gap.measured()) return nullptr;
  const bool same = std::fabs(at->second.crank - crank) < kSameCrank &&
                    std::fabs(at->second.lift - setup.motion.lift(valve, crank)) < kSameLift;
  return same ? &at->second : nullptr;
}

Vec3 on_rim_now(const study::Setup& setup, int valve, double crank, Vec3 on_valve) {
  const Vec3 up = setup.valves.at(static_cast<std::size_t>(valve)).place.up;
  const double below = dot(setup.rim_centre(valve, setup.motion.lift(valve, crank)) - on_valve, up);
  const double lowest = setup.valves.at(static_cast<std::size_t>(valve)).to_piston.profile().lowest;
  return below > -lowest ? on_valve + below * up : on_valve;
}

std::vector<LitGap> lit_gaps(const study::Setup& setup, const CheckResult* check, const std::vector<PoseGaps>& gaps,
                             double crank, const Look& look) {
  std::vector<LitGap> out;
  const Vec3 piston{0, 0, setup.engine.gasket.thickness + setup.motion.height(crank)};
  for (const GapKind kind : kGapKinds) {
    if (!look.lit.contains(kind)) continue;
    std::optional<int> chosen;
    for (int i = 0; i < static_cast<int>(gaps.size()); ++i) {
      const Gap& gap = gaps[static_cast<std::size_t>(i)][kind];
      if (!gap.measured() || (look.lit_valve && *look.lit_valve != i)) continue;
      if (!chosen || gap.value < gaps[static_cast<std::size_t>(*chosen)][kind].value) chosen = i;
    }
    if (!chosen) continue;
    LitGap lit;
    lit.kind = kind;
    lit.valve = *chosen;
    lit.gap = gaps[static_cast<std::size_t>(*chosen)][kind];
    lit.on_valve = lit.gap.on_valve + piston;
    lit.on_piston = lit.gap.on_other + piston;
    if (lit.gap.other_face >= 0)
      lit.face = setup.parts.crown.faces.at(static_cast<std::size_t>(lit.gap.other_face)).name;
    const std::string& valve = setup.engine.valves[static_cast<std::size_t>(*chosen)].name;
    std::string remark;
    if (const Minimum* const least = least_here(setup, check, *chosen, kind, crank)) {
      lit.least = true;
      lit.gap = least->gap;
      lit.on_valve = least->point_valve;
      lit.on_piston = least->point_other;
      lit.face = least->face_other;
      remark = ", least of the cycle" + judged_words(*check, valve, kind, look.format);
    }
    lit.on_rim = on_rim_now(setup, *chosen, crank, lit.on_valve);
    lit.label =
        fmt::format("{}\n{}, {}{}", gap_words(kind, lit.gap.value, look.format), valve, crank_text(crank), remark);
    out.push_back(std::move(lit));
  }
  return out;
}

std::string gap_words(GapKind kind, double value, const Format& format) {
  const Lengths lengths(format);
  return fmt::format("{} {} {}", to_string(kind), lengths.gap(value), lengths.unit());
}

}  // namespace eyebrow::scene
