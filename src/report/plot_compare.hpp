// Gaps of several engines against crank angle, on a page that is not finished yet.
#pragma once
#include <string>
#include <vector>

#include "plot_axis.hpp"
#include "plot_page.hpp"

namespace eyebrow::plot {

/// Where one kind of gap of one valve was drawn. Crank angles in degrees, gaps in the report's unit.
struct ComparePanel {
  std::string valve;
  GapKind kind = GapKind::travel;
  Box frame;
  Axis crank, gap;
};

struct CompareDrawn {
  Page page;
  std::vector<ComparePanel> panels;
};

/// See plot_compare in plot.hpp. The page's marks are called "2 intake travel": the engine's number, valve and kind.
CompareDrawn draw_compare(const std::vector<CheckResult>& checks, const std::vector<std::string>& valves, PlotFile kind,
                          const Format& format);

}  // namespace eyebrow::plot
