// The machinist's sheet, before it is written as a file.
#pragma once
#include "eyebrow/pocket_report.hpp"
#include "plot_page.hpp"

namespace eyebrow::plot {

Page draw_pocket_sheet(const PocketResult& result, PlotFile kind, const Format& format);

}  // namespace eyebrow::plot
