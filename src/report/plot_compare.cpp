#include "plot_compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "lines.hpp"
#include "plot_curve_data.hpp"
#include "plot_frame.hpp"
#include "plot_labels.hpp"
#include "verdict_text.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kColumnLeft[] = {84, 572}, kColumnWidth = 392;
constexpr double kCompareFrame = 168, kAbovePanel = 22, kBelowPanel = 26, kValveTitle = 22, kLastTitle = 16;
constexpr double kLegendRow = 17, kCompareMark = 9;

/// One valve in every engine that has it.
struct ValveCurves {
  std::string name;
  std::vector<std::pair<std::size_t, CurveData>> of;  ///< engine's number from 0
};

std::vector<ValveCurves> compared_valves(const std::vector<CheckResult>& checks,
                                         const std::vector<std::string>& valves) {
  std::vector<ValveCurves> out;
  for (std::size_t e = 0; e < checks.size(); ++e)
    for (const ValveResult& valve : checks[e].valves) {
      if (!valves.empty() && std::ranges::find(valves, valve.name) == valves.end()) continue;
      auto at = std::ranges::find(out, valve.name, &ValveCurves::name);
      if (at == out.end()) at = out.insert(out.end(), {valve.name, {}});
      at->of.emplace_back(e, curve_data(checks[e], valve.name).front());
    }
  for (const std::string& name : valves)
    if (std::ranges::find(out, name, &ValveCurves::name) == out.end())
      throw Error(fmt::format("no valve is called \"{}\"", printable(name)));
  return out;
}

/// One kind of gap of one valve.
class KindPanel {
 public:
  KindPanel(Page& page, const Lengths& lengths, ComparePanel panel, const ValveCurves& valve, std::size_t kind)
      : page_(page),
        lengths_(lengths),
        panel_(std::move(panel)),
        valve_(valve),
        kind_(kind),
        labels_(panel_.frame.grown(-3)) {}

  void draw(bool first_column, bool last_row, double gap_step) {
    const Box& frame = panel_.frame;
    title();
    ground();
    draw_bottom(page_, frame, panel_.crank,
                {last_row ? "crank angle from overlap TDC (degrees)" : "",
                 tick_step(panel_.crank.to - panel_.crank.from, 5), &crank_tick_text});
    draw_left(page_, frame, panel_.gap, {first_column ? fmt::format("gap ({})", lengths_.unit()) : "", gap_step});
    page_.within(frame, [&] {
      page_.line({{frame.left, panel_.gap.place(0)}, {frame.right, panel_.gap.place(0)}}, {kBlack, 1.6});
      const double tdc = panel_.crank.place(0);
      page_.line({{tdc, frame.top}, {tdc, frame.bottom}}, {kGrey, 0.8});
      for (const auto& [engine, data] : valve_.of) curve(engine, data);
    });
    page_.box(frame, {kBlack, 1});
    marks();
    asked_lines();
  }

 private:
  const Tightest& tightest(const CurveData& data) const { return data.tightest[kind_]; }
  double gap_at(double mm) const { return panel_.gap.place(lengths_.shown(mm)); }

  /// The kind, and each engine's least.
  void title() {
    const Box& frame = panel_.frame;
    const Box name = page_.text(to_string(kGapKinds[kind_]), {frame.left, frame.top - 6}, {kTextSize, true});
    std::string text;
    for (const auto& [engine, data] : valve_.of) {
      const Tightest& of = tightest(data);
      text +=
          fmt::format("{}{}: {}{}", text.empty() ? "" : ",  ", engine + 1, of.found ? lengths_.gap(of.judged) : "none",
                      of.mark == "SHORT" || of.mark == "CONTACT" ? " " + of.mark : "");
    }
    const double left = name.right + 12;
    page_.text(fitted(text, kSmallSize, frame.right - left), {left, frame.top - 6}, {kSmallSize, false});
  }

  void ground() {
    const Box& frame = panel_.frame;
    const Box below{frame.left, panel_.gap.place(0), frame.right, frame.bottom};
    page_.fill(below, kOverlap);
    page_.hatch(below, {kOverlapLines, 0.6}, 7);
  }

  void curve(std::size_t engine, const CurveData& data) {
    const LineStyle& style = kLineStyles[engine];
    std::vector<Place> piece;
    const auto end_piece = [&] {
      page_.line(piece, {style.ink, 2.2, style.dash});
      labels_.avoid(piece, 1);
      piece.clear();
    };
    for (std::size_t i = 0; i < data.degrees.size(); ++i) {
      const double gap = data.gaps[kind_][i];
      if (std::isnan(gap) || std::isnan(data.degrees[i]))
        end_piece();
      else
        piece.push_back({panel_.crank.place(data.degrees[i]), gap_at(gap)});
    }
    end_piece();
  }

  void marks() {
    for (std::size_t i = 0; i < valve_.of.size(); ++i) {
      const auto& [engine, data] = valve_.of[i];
      const Tightest& of = tightest(data);
      if (!of.found || of.crank < panel_.crank.from || of.crank > panel_.crank.to) continue;
      const Place at{panel_.crank.place(of.crank), gap_at(of.judged)};
      // Of marks in one place the lower ones are larger, so that all are seen.
      const double more = 6 * static_cast<double>(valve_.of.size() - 1 - i);
      const bool alone =
          std::none_of(valve_.of.begin() + static_cast<std::ptrdiff_t>(i) + 1, valve_.of.end(), [&](const auto& other) {
            const Tightest& its = tightest(other.second);
            return its.found &&
                   std::hypot(panel_.crank.place(its.crank) - at.x, gap_at(its.judged) - at.y) < kCompareMark / 2;
          });
      page_.mark(kLineStyles[engine].shape, at, kCompareMark + (alone ? 0 : more), kLineStyles[engine].ink,
                 fmt::format("{} {} {}", engine + 1, valve_.name, to_string(kGapKinds[kind_])));
      labels_.keep_off(Box{at.x, at.y, at.x, at.y}.grown(kCompareMark * 0.7));
    }
  }

  /// Of engines that ask for the same one line, and one label with their numbers.
  void asked_lines() {
    std::vector<std::string> told;
    for (const auto& [engine, data] : valve_.of) {
      const double asked = tightest(data).asked;
      const std::string number = lengths_.required(asked);
      if (std::isnan(asked) || std::ranges::find(told, number) != told.end()) continue;
      told.push_back(number);
      std::string engines;
      std::size_t count = 0;
      for (const auto& [other, its] : valve_.of)
        if (lengths_.required(tightest(its).asked) == number) {
          engines += fmt::format("{}{}", engines.empty() ? "" : ", ", other + 1);
          ++count;
        }
      const bool all = count == valve_.of.size();
      const double y = gap_at(asked);
      const std::vector<Place> line{{panel_.frame.left, y}, {panel_.frame.right, y}};
      page_.line(line, {all ? kBlack : kLineStyles[engine].ink, 0.9, {5, 3}});
      labels_.avoid(line);
      const std::string text = fmt::format("asked {} {}{}", number, lengths_.unit(), all ? "" : " in " + engines);
      const double width = text_width(text, kSmallSize);
      std::vector<Box> candidates;
      for (double x = panel_.frame.left + 6; x + width < panel_.frame.right; x += 20)
        for (const double top : {y - kSmallSize - 3.5, y + 2.5})
          candidates.push_back({x, top, x + width, top + kSmallSize + 1});
      if (const auto at = labels_.take(candidates))
        page_.text(text, {at->left, at->bottom - 3}, {kSmallSize, false, kBlack, Anchor::left, true});
    }
  }

  Page& page_;
  const Lengths& lengths_;
  ComparePanel panel_;
  const ValveCurves& valve_;
  std::size_t kind_;
  Labels labels_;
};

/// Which line is whose.
void draw_legend(Page& page, const std::vector<CheckResult>& checks, double top) {
  double y = top + 12;
  for (std::size_t e = 0; e < checks.size(); ++e, y += kLegendRow) {
    const LineStyle& style = kLineStyles[e];
    page.line({{kColumnLeft[0], y - 4}, {kColumnLeft[0] + 46, y - 4}}, {style.ink, 2.2, style.dash});
    page.mark(style.shape, {kColumnLeft[0] + 23, y - 4}, kCompareMark, style.ink);
    const char* verdict = checks[e].verdict == Verdict::holds    ? "holds"
                          : checks[e].verdict == Verdict::short_ ? "SHORT"
                                                                 : "CONTACT";
    const double left = kColumnLeft[0] + 56;
    page.text(fitted(fmt::format("{}  {}: {}", e + 1, printable(checks[e].engine, 120), verdict), kTextSize,
                     kPageWidth - kMargin - left),
              {left, y}, {kTextSize, false});
  }
}

std::vector<std::string> compare_notes(const std::vector<CheckResult>& checks, const std::vector<CurveData>& panels,
                                       const Range& cranks) {
  std::string text =
      "Marks: the least of each gap, as it is judged, proven for every crank angle; its number, rounded down, stands "
      "above the panel.";
  const bool stops =
      std::ranges::any_of(checks, [](const CheckResult& each) { return !each.conditions.stops.empty(); });
  bool card = false, away = false;
  for (const CurveData& panel : panels)
    for (const Tightest& of : panel.tightest) {
      card = card || !std::isnan(of.open_least);
      away = away || (of.found && (of.crank < cranks.from || of.crank > cranks.to));
    }
  if (card)
    text += " Curves are of the middle of the lobes that have the same cam card; the least of them all is marked.";
  if (stops) text += " Curves are with the cams as set; marks are the least of all positions between their stops.";
  if (away) text += " Some least gaps are at crank angles that are not in the picture.";
  return {text, kCaution};
}

}  // namespace

CompareDrawn draw_compare(const std::vector<CheckResult>& checks, const std::vector<std::string>& valves, PlotFile kind,
                          const Format& format) {
  if (checks.size() > kLineStyles.size())
    throw Error(fmt::format("a plot tells {} engines apart, not {}", kLineStyles.size(), checks.size()));
  const Lengths lengths(format);
  const std::vector<ValveCurves> compared = compared_valves(checks, valves);
  std::vector<CurveData> all;
  for (const ValveCurves& valve : compared)
    for (const auto& [engine, data] : valve.of) all.push_back(data);
  const Range gaps_mm = gap_range(all), cranks = crank_range(all, gaps_mm);
  const Range gaps{lengths.shown(gaps_mm.from), lengths.shown(gaps_mm.to)};

  const Surround surround("Gaps of engines side by side", {}, compare_notes(checks, all, cranks));
  const double legend = kLegendRow * static_cast<double>(checks.size()) + 8;
  const double row = kAbovePanel + kCompareFrame + kBelowPanel;
  const double height = surround.head() + legend + static_cast<double>(compared.size()) * (kValveTitle + 2 * row) +
                        kLastTitle + surround.foot();
  CompareDrawn out{Page(kind, kPageWidth, height, "Gaps of engines side by side"), {}};
  surround.draw(out.page);
  draw_legend(out.page, checks, surround.head());
  const double gap_step = tick_step(gaps.to - gaps.from, 6);
  double top = surround.head() + legend;
  for (std::size_t v = 0; v < compared.size(); ++v) {
    out.page.text("Valve " + printable(compared[v].name), {kColumnLeft[0], top + 16}, {kTextSize + 1, true});
    top += kValveTitle;
    for (std::size_t k = 0; k < 4; ++k) {
      const bool last_row = v + 1 == compared.size() && k >= 2;
      const double left = kColumnLeft[k % 2], frame_top = top + kAbovePanel;
      const Box frame{left, frame_top, left + kColumnWidth, frame_top + kCompareFrame};
      const ComparePanel panel{compared[v].name,
                               kGapKinds[k],
                               frame,
                               {cranks.from, cranks.to, frame.left, frame.right},
                               {gaps.from, gaps.to, frame.bottom, frame.top}};
      KindPanel(out.page, lengths, panel, compared[v], k).draw(k % 2 == 0, last_row, gap_step);
      out.panels.push_back(panel);
      if (k % 2 == 1) top += row;
    }
  }
  return out;
}

}  // namespace eyebrow::plot

namespace eyebrow {

std::string plot_compare(const std::vector<CheckResult>& checks, const std::vector<std::string>& valves, PlotFile kind,
                         const Format& format) {
  return plot::draw_compare(checks, valves, kind, format).page.finish();
}

}  // namespace eyebrow
