#include "scene/lit_gaps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/asked.hpp"
#include "report/words.hpp"
#include "study/asked.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kSameCrank = 1e-9, kSameLift = 1e-6;
constexpr double kAtEdge = 0.93;  // of the crown's radius: where head and crown face each other
constexpr int kAround = 72;

/// One that may be lit.
struct Candidate {
  int valve = -1, other = -1;
  Gap gap;
  Vec3 on_valve, on_other;
  std::string face;
};

Vec3 piston_place(const study::Setup& setup, double crank) {
  return {0, 0, setup.engine.gasket.thickness + setup.motion.height(crank)};
}

/// Over the crown flat as far from the valves as there is: where head and crown come near each other.
Candidate head_candidate(const study::Setup& setup, double crank) {
  const double radius = kAtEdge * setup.engine.piston.crown_diameter / 2;
  Vec3 chosen{radius, 0, 0};
  double farthest = -1;
  for (int i = 0; i < kAround; ++i) {
    const double turn = 2 * kPi * i / kAround;
    const Vec3 here{radius * std::cos(turn), radius * std::sin(turn), 0};
    double nearest = INFINITY;
    for (int valve = 0; valve < static_cast<int>(setup.valves.size()); ++valve) {
      const Vec3 closed = setup.rim_centre(valve, 0);
      nearest = std::min(nearest, std::hypot(closed.x - here.x, closed.y - here.y) -
                                      setup.engine.valves[static_cast<std::size_t>(valve)].head_diameter / 2);
    }
    if (nearest > farthest + kSameLift) farthest = nearest, chosen = here;
  }
  Candidate out;
  out.on_valve = chosen + Vec3{0, 0, setup.engine.gasket.thickness};
  out.on_other = chosen + piston_place(setup, crank);
  out.gap.status = GapStatus::measured;
  out.gap.value = out.gap.low = out.gap.high = out.on_valve.z - out.on_other.z;
  out.face = "crown flat";
  return out;
}

Candidate piston_candidate(const study::Setup& setup, int valve, const Gap& gap, double crank) {
  const Vec3 piston = piston_place(setup, crank);
  Candidate out{valve, -1, gap, gap.on_valve + piston, gap.on_other + piston, ""};
  if (gap.other_face >= 0) out.face = setup.parts.crown.faces.at(static_cast<std::size_t>(gap.other_face)).name;
  return out;
}

/// Those of a kind that the look lets be lit.
std::vector<Candidate> candidates(const study::Setup& setup, const study::GapsNow& gaps, LitKind kind, double crank,
                                  const Look& look) {
  std::vector<Candidate> out;
  if (kind == LitKind::head) return {head_candidate(setup, crank)};
  if (const auto of = gap_kind(kind)) {
    for (int i = 0; i < static_cast<int>(gaps.piston.size()); ++i)
      if (const Gap& gap = gaps.piston[static_cast<std::size_t>(i)][*of];
          gap.measured() && look.lit_valve.value_or(i) == i)
        out.push_back(piston_candidate(setup, i, gap, crank));
    return out;
  }
  const auto open = [&](int valve) { return valve >= 0 && setup.motion.lift(valve, crank) > 0; };
  for (const study::GapsNow::Other& each : kind == LitKind::pair ? gaps.pairs : gaps.bore) {
    const bool meant = look.focus == kind || open(each.first) || open(each.second);
    const auto has = [&](std::optional<int> valve) {
      return !valve || *valve == each.first || (kind == LitKind::pair && *valve == each.second);
    };
    if (each.gap.measured() && meant && has(look.lit_valve) && (kind != LitKind::pair || has(look.lit_other)))
      out.push_back({each.first, each.second, each.gap, each.gap.on_valve, each.gap.on_other, each.face});
  }
  return out;
}

/// As AskedRow::valve.
std::string whose(const study::Setup& setup, int valve, int other) {
  if (valve < 0) return "";
  const std::string& name = setup.engine.valves[static_cast<std::size_t>(valve)].name;
  return other < 0 ? name : name + " / " + setup.engine.valves[static_cast<std::size_t>(other)].name;
}

/// Its row where the gap is at its least here, as the check has it.
const AskedRow* row_of_least(const study::Setup& setup, const CheckResult* check, const LitGap& lit, double crank) {
  if (check == nullptr) return nullptr;
  const AskedRow* const row = find_asked(*check, to_string(lit.kind), whose(setup, lit.valve, lit.other));
  if (row == nullptr) return nullptr;
  if (lit.kind == LitKind::head) return std::fabs(crank) < kSameCrank ? row : nullptr;
  const Minimum* const least = minimum_of(*check, *row);
  if (least == nullptr || std::fabs(least->crank - crank) > kSameCrank) return nullptr;
  const auto stands = [&](int valve, double lift) {
    return valve < 0 || std::fabs(lift - setup.motion.lift(valve, crank)) < kSameLift;
  };
  return stands(lit.valve, least->lift) && stands(lit.other, least->lift2) ? row : nullptr;
}

/// What stands there, where the cam's card leaves the gap open and less is judged. Empty: nothing else.
std::string middle_words(const AskedRow& row, const Format& format) {
  const Lengths lengths(format);
  if (!std::isfinite(row.middle) || lengths.gap(row.found) == lengths.gap(row.middle)) return "";
  return fmt::format("; drawn {}, the middle of its card", lengths.gap(row.middle));
}

}  // namespace

Vec3 on_rim_now(const study::Setup& setup, int valve, double crank, Vec3 on_valve) {
  const Vec3 up = setup.valves.at(static_cast<std::size_t>(valve)).place.up;
  const double below = dot(setup.rim_centre(valve, setup.motion.lift(valve, crank)) - on_valve, up);
  const double lowest = setup.valves.at(static_cast<std::size_t>(valve)).to_piston.profile().lowest;
  return below > -lowest ? on_valve + below * up : on_valve;
}

double asked_for(const study::Setup& setup, int valve, LitKind kind) {
  const Asked& asked = setup.engine.asked;
  switch (kind) {
    case LitKind::pair:
      return asked.valve_to_valve;
    case LitKind::bore:
      return asked.valve_to_bore;
    case LitKind::head:
      return asked.piston_to_head;
    default:
      return study::asked_of(setup.valves.at(static_cast<std::size_t>(valve)).asked, *gap_kind(kind));
  }
}

bool is_short_of(double value, double asked) {
  return value < asked - study::kAsAsked;
}

std::vector<LitGap> lit_gaps(const study::Setup& setup, const CheckResult* check, const study::GapsNow& gaps,
                             double crank, const Look& look) {
  std::vector<LitGap> out;
  for (const LitKind kind : kLitKinds) {
    if (!look.lit.contains(kind)) continue;
    const std::vector<Candidate> all = candidates(setup, gaps, kind, crank, look);
    const auto chosen = std::ranges::min_element(all, {}, [](const Candidate& each) { return each.gap.value; });
    if (chosen == all.end()) continue;
    LitGap lit;
    lit.kind = kind;
    lit.valve = chosen->valve;
    lit.other = chosen->other;
    lit.gap = chosen->gap;
    lit.on_valve = chosen->on_valve;
    lit.on_other = chosen->on_other;
    lit.face = chosen->face;
    lit.asked = asked_for(setup, lit.valve, kind);
    lit.is_short = is_short_of(lit.gap.value, lit.asked);
    double told = lit.gap.value;
    std::string remark;
    if (const AskedRow* const row = row_of_least(setup, check, lit, crank)) {
      lit.least = true;
      lit.is_short = !row->holds;
      if (const Minimum* const least = minimum_of(*check, *row)) {
        lit.gap = least->gap;
        lit.on_valve = least->point_valve;
        lit.on_other = least->point_other;
        lit.face = least->face_other;
      }
      if (std::isfinite(row->found)) told = row->found;
      remark = ", least of the cycle" + middle_words(*row, look.format);
    }
    lit.on_rim = gap_kind(kind) ? on_rim_now(setup, lit.valve, crank, lit.on_valve) : lit.on_valve;
    const std::string valves = whose(setup, lit.valve, lit.other);
    lit.label = fmt::format("{}\n{}{}{}{}", gap_words(kind, told, lit.asked, lit.is_short, look.format), valves,
                            valves.empty() ? "" : ", ", crank_text(crank), remark);
    out.push_back(std::move(lit));
  }
  return out;
}

std::string gap_words(LitKind kind, double value, double asked, bool is_short, const Format& format) {
  const Lengths lengths(format);
  // The radial gap looks ahead along the path: below zero the rim has not touched yet.
  const bool touches = value < 0 && kind != LitKind::radial;
  return fmt::format("{} {}{}{} {}{}", to_string(kind), lengths.gap(value), asked > 0 ? " of " : "",
                     asked > 0 ? lengths.required(asked) : "", lengths.unit(),
                     touches    ? "  CONTACT"
                     : is_short ? "  SHORT"
                                : "");
}

}  // namespace eyebrow::scene
