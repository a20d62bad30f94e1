// Maps of least gaps, on a page that is not finished yet. See plot_map in plot.hpp.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "plot_axis.hpp"
#include "plot_contour.hpp"
#include "plot_page.hpp"
#include "words.hpp"

namespace eyebrow::plot {

/// Where a panel was drawn: an input to the right; upward gaps in the report's unit, or the second input.
struct MapPanel {
  std::string title;
  Box frame;
  Axis x, y;
};

struct MapDrawn {
  Page page;
  std::vector<MapPanel> panels;
};

MapDrawn draw_map(const MapResult& map, const std::vector<std::size_t>& gaps, PlotFile kind, const Format& format);

/// See tightest_gap in plot.hpp.
std::size_t tightest(const MapResult& map);

/// One input's values with the cells there: a map over one input, or over two of which the other has a single value.
struct MapCut {
  const Varied* input = nullptr;
  std::vector<const MapCell*> cells;
  std::string fixed;  ///< "cam.advance 4 deg": the other input
};

MapDrawn draw_map_lines(const MapResult& map, const MapCut& cut, const std::vector<std::size_t>& gaps, PlotFile kind,
                        const Format& format);
MapDrawn draw_map_bands(const MapResult& map, std::size_t gap, PlotFile kind, const Format& format);

/// "intake, travel", "intake / exhaust, valve to valve", "piston to head", with ", running".
std::string gap_title(const MapGap& gap);
/// A value of an input with its unit: "0.041 in".
std::string input_text(const Varied& input, double value);
/// "gasket.thickness (in)"
std::string input_title(const Varied& input);
/// What both kinds of map write under their title and below.
std::string changed_text(const MapResult& map);
std::vector<std::string> map_notes();

/// Where a map over two inputs is not allowed, in the inputs' values.
struct NotAllowed {
  std::vector<Polygon> region;
  std::vector<std::vector<Place>> border;  ///< where an asked gap just holds, and all the others do
  std::vector<Polygon> no_engine;          ///< cells with a corner where there is none
};
/// Each asked gap straight between the computed places, as its contour lines are. A cell is not allowed as a whole
/// where one of its corners is not and no gap tells from where on.
NotAllowed not_allowed(const MapResult& map);

}  // namespace eyebrow::plot
