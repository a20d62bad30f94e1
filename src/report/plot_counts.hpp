// How often values come out, and amounts by rank, on a page that is not finished yet. See plot_histogram and plot_bars
// in plot.hpp.
#pragma once
#include <string>
#include <vector>

#include "plot_axis.hpp"
#include "plot_page.hpp"

namespace eyebrow::plot {

/// Bins in the unit that is shown.
struct Bins {
  std::vector<double> edges, counts;
};
/// As wide as Freedman and Diaconis say (twice the middle half's width over the cube root of the number; Zeitschrift
/// fuer Wahrscheinlichkeitstheorie 57, 1981), from a multiple of a 1-2-5 step on, 60 at most. What is no number is left
/// out.
Bins bins_of(const std::vector<double>& values);

/// The share of what is below `limit`: exact for samples (of all, those that are no number included); for bins straight
/// within the bin that the limit is in. NaN where there is nothing.
double share_below(const std::vector<double>& samples, double limit);
double share_below(const Bins& bins, double limit);
/// "0.13 %", never less than it is: what is not zero is no "0 %", and is rounded up.
std::string percent_text(double share);

struct CountsDrawn {
  Page page;
  Box frame;
  Axis x, y;
};
CountsDrawn draw_histogram(const Histogram& histogram, PlotFile kind, const Format& format);
CountsDrawn draw_bars(const Bars& bars, PlotFile kind, const Format& format);

}  // namespace eyebrow::plot
