// Gaps against crank angle, on a page that is not finished yet.
#pragma once
#include <string>
#include <vector>

#include "plot_axis.hpp"
#include "plot_page.hpp"

namespace eyebrow::plot {

/// Where a panel was drawn. Crank angles in degrees, gaps and lifts in the report's unit.
struct CurvePanel {
  std::string valve;
  Box frame;
  Axis crank, gap, light;  ///< `light`: valve lift and piston depth
};

struct CurvesDrawn {
  Page page;
  std::vector<CurvePanel> panels;
};

/// See plot_curves in plot.hpp. The page's marks are called "intake travel", and "... judged" where the lobe's card
/// leaves a lower gap open than its middle curve has.
CurvesDrawn draw_curves(const CheckResult& result, const std::string& valve, PlotFile kind, const Format& format);

}  // namespace eyebrow::plot
