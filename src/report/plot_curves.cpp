#include "plot_curves.hpp"

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "plot_curve_data.hpp"
#include "plot_curve_panel.hpp"
#include "plot_frame.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kCurvesLeft = 84;  // of the frames
constexpr double kPanelTitle = 20, kCurvesBelow = 26, kAxisTitle = 18;
constexpr double kLeastCurvesPanel = 206;  // height of a frame: the list beside it needs as much

}  // namespace

CurvesDrawn draw_curves(const CheckResult& result, const std::string& valve, PlotFile kind, const Format& format) {
  const Lengths lengths(format);
  const std::vector<CurveData> panels = curve_data(result, valve);
  const Range gaps_mm = gap_range(panels), cranks = crank_range(panels, gaps_mm);
  const Range gaps{lengths.shown(gaps_mm.from), lengths.shown(gaps_mm.to)};
  std::string title = printable(result.engine, 200);
  if (!result.conditions.cylinder.empty()) title += ", cylinder " + printable(result.conditions.cylinder, 64);
  const Surround surround(title, curves_subtitle(result, lengths), curves_notes(result, panels, cranks, lengths));

  const double count = static_cast<double>(std::max<std::size_t>(panels.size(), 1));
  const double others = surround.head() + surround.foot() + kAxisTitle + count * (kPanelTitle + kCurvesBelow);
  const double frame_height =
      std::max(kLeastCurvesPanel + (result.allowances.empty() ? 0 : 4 * kListRunning), (kPageHeight - others) / count);
  const double height = others + count * frame_height;

  // Lifts that are seen beside the gaps' scale: a nice multiple of it that holds the greatest lift.
  const double gap_step = tick_step(gaps.to - gaps.from, 9);
  double most = 0;
  for (const CurveData& panel : panels)
    for (std::size_t i = 0; i < panel.degrees.size() && i < panel.series->lift.size(); ++i)
      if (panel.degrees[i] >= cranks.from && panel.degrees[i] <= cranks.to && drawable(panel.series->lift[i]))
        most = std::fmax(most, lengths.shown(panel.series->lift[i]));
  const double light_step = std::fmax(gap_step, tick_step(1.05 * most / (gaps.to / gap_step), 1));

  CurvesDrawn out{Page(kind, kPageWidth, height, title), {}};
  surround.draw(out.page);
  double top = surround.head();
  for (std::size_t i = 0; i < panels.size(); ++i) {
    const Box frame{kCurvesLeft, top + kPanelTitle, kCurvesRight, top + kPanelTitle + frame_height};
    const double light = light_step / gap_step;
    const CurvePanel panel{panels[i].name,
                           frame,
                           {cranks.from, cranks.to, frame.left, frame.right},
                           {gaps.from, gaps.to, frame.bottom, frame.top},
                           {gaps.from * light, gaps.to * light, frame.bottom, frame.top}};
    DrawnPanel(out.page, lengths, panel, panels[i]).draw(i + 1 == panels.size(), gap_step, light_step);
    out.panels.push_back(panel);
    top = frame.bottom + kCurvesBelow;
  }
  if (panels.empty())
    out.page.text("There is no valve to draw.", {kPageWidth / 2, kPageHeight / 2},
                  {kTextSize, false, kGrey, Anchor::middle});
  return out;
}

}  // namespace eyebrow::plot

namespace eyebrow {

std::string plot_curves(const CheckResult& result, const std::string& valve, PlotFile kind, const Format& format) {
  return plot::draw_curves(result, valve, kind, format).page.finish();
}

}  // namespace eyebrow
