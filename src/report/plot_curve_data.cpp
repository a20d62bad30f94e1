#include "plot_curve_data.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "asked.hpp"
#include "lines.hpp"

namespace eyebrow::plot {
namespace {

// Around overlap TDC, degrees: a least gap further away (both valves on their seats, at the other TDC) is told in
// words.
constexpr double kAround = 180;
constexpr double kLeastWidth = 40;  // of the stretch shown
constexpr double kLeastTop = 3;     // mm: lower than this no plot of an engine's gaps ends

Tightest tightest(const CheckResult& result, const ValveResult& valve, GapKind kind) {
  Tightest out;
  const AskedRow* asked = find_asked(result, to_string(kind), valve.name);
  if (asked && drawable(asked->required)) out.asked = asked->required;
  const auto at = valve.minimum.find(kind);
  if (at == valve.minimum.end() || !at->second.gap.measured() || !drawable(at->second.gap.value) ||
      !drawable(at->second.crank)) {
    out.reason = at == valve.minimum.end() || at->second.reason.empty() ? "none over the cycle" : at->second.reason;
    out.mark = asked && !asked->holds ? "SHORT" : "";
    return out;
  }
  out.found = true;
  out.crank = at->second.crank / kDegree;
  out.middle = at->second.gap.value;
  out.judged = asked && drawable(asked->found) ? asked->found : out.middle;
  if (const auto card = valve.card.find(kind); card != valve.card.end() && drawable(card->second.least)) {
    out.open_least = card->second.least;
    out.open_most = drawable(card->second.greatest) ? card->second.greatest : out.middle;
    if (!asked) out.judged = out.open_least;
  }
  if (const auto running = valve.running.find(kind); running != valve.running.end())
    out.running = drawable(running->second.value) ? running->second.value : NAN;
  for (const AskedRow& row : result.asked)
    if (row.running && row.valve == valve.name && row.what == to_string(kind) && drawable(row.required))
      out.running_asked = row.required;
  // As in the table: the radial gap looks ahead along the path, below zero the rim has not run into the wall yet.
  out.mark = mark(asked, kind != GapKind::radial && out.judged < 0);
  return out;
}

CurveData panel(const CheckResult& result, const ValveResult& valve) {
  CurveData out;
  const std::string role = to_string(valve.role), name = printable(valve.name);
  // "intake_front" says it by itself.
  out.name = valve.name.find(role) != std::string::npos ? name : name + " (" + role + ")";
  out.series = &valve.series;
  for (const double crank : valve.series.crank) out.degrees.push_back(drawable(crank) ? crank / kDegree : NAN);
  for (std::size_t k = 0; k < 4; ++k) {
    out.gaps[k] = valve.series[kGapKinds[k]];
    out.gaps[k].resize(out.degrees.size(), NAN);
    for (double& gap : out.gaps[k]) gap = drawable(gap) ? gap : NAN;
    out.tightest[k] = tightest(result, valve, kGapKinds[k]);
  }
  return out;
}

bool around(double degrees) {
  return std::fabs(degrees) <= kAround;
}

/// Grows the stretch over the samples next to it at which some gap is no more than `most`.
void grow(Range& range, const CurveData& panel, double most) {
  const auto near = [&](std::size_t i) {
    return std::any_of(std::begin(panel.gaps), std::end(panel.gaps), [&](const auto& gap) { return gap[i] <= most; });
  };
  // The samples are in rising order; one that is not near ends the stretch.
  for (std::size_t i = 0; i < panel.degrees.size(); ++i)
    if (panel.degrees[i] > range.to && around(panel.degrees[i])) {
      if (!near(i)) break;
      range.to = panel.degrees[i];
    }
  for (std::size_t i = panel.degrees.size(); i-- > 0;)
    if (panel.degrees[i] < range.from && around(panel.degrees[i])) {
      if (!near(i)) break;
      range.from = panel.degrees[i];
    }
}

}  // namespace

std::vector<CurveData> curve_data(const CheckResult& result, const std::string& valve) {
  std::vector<CurveData> out;
  for (const ValveResult& each : result.valves)
    if (valve.empty() || each.name == valve) out.push_back(panel(result, each));
  if (out.empty() && !valve.empty()) throw Error(fmt::format("no valve is called \"{}\"", printable(valve)));
  return out;
}

Range gap_range(const std::vector<CurveData>& panels) {
  double top = 0, bottom = 0;
  for (const CurveData& panel : panels)
    for (const Tightest& each : panel.tightest) {
      if (!std::isnan(each.asked)) top = std::fmax(top, 2.5 * each.asked);
      if (!each.found) continue;
      const double least = std::fmin(each.judged, each.middle);
      bottom = std::fmin(bottom, least);
      if (around(each.crank)) top = std::fmax(top, 1.5 * each.middle);
    }
  top = std::fmax(std::fmax(top, kLeastTop), -0.6 * bottom);
  return {bottom < 0 ? bottom - 0.12 * (top - bottom) : -0.06 * top, top};
}

Range crank_range(const std::vector<CurveData>& panels, const Range& gaps) {
  Range range{INFINITY, -INFINITY};
  for (const CurveData& panel : panels)
    for (const Tightest& each : panel.tightest)
      if (each.found && around(each.crank))
        range = {std::fmin(range.from, each.crank), std::fmax(range.to, each.crank)};
  if (range.from > range.to) range = {0, 0};
  const Range marks = range;
  for (const CurveData& panel : panels) {
    Range grown = marks;
    grow(grown, panel, gaps.to);
    range = {std::fmin(range.from, grown.from), std::fmax(range.to, grown.to)};
  }
  const double missing = std::fmax(0, kLeastWidth - (range.to - range.from)) / 2;
  return {5 * std::floor((range.from - missing - 2) / 5), 5 * std::ceil((range.to + missing + 2) / 5)};
}

}  // namespace eyebrow::plot
