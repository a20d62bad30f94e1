// Pictures of results, as whole files. The same input gives the same bytes.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/map.hpp"
#include "eyebrow/report.hpp"

namespace eyebrow {

enum class PlotFile { svg, pdf, png };

/// What the ending of a file's name asks for (".svg", ".pdf", ".png", in small letters or capitals); nothing where it
/// is another, which is for the caller to tell.
std::optional<PlotFile> plot_file(const std::string& name);

// All return the bytes of the file and throw MachineError where the drawing library fails. Lengths are drawn as
// `format` says. A value that is no number, or beyond 1e9, is drawn as one that is not there.

/// The gaps of every valve (or of the one named `valve`) against crank angle, a panel a valve, around the angles where
/// something is near; the least ones marked as the report judges them. Throws Error where no valve is called `valve`.
std::string plot_curves(const CheckResult& result, const std::string& valve, PlotFile kind, const Format& format);

/// The gaps of the valves named (none = all) of up to four engines against crank angle, a panel a kind of gap, the
/// engines each with a line of its own; the least ones marked. Throws Error where no engine has a valve of that name,
/// and for more engines.
std::string plot_compare(const std::vector<CheckResult>& checks, const std::vector<std::string>& valves, PlotFile kind,
                         const Format& format);

/// Which gap of a map has the least margin where the inputs are today; where that is not on the map, anywhere on it.
/// 0 where none has a margin.
std::size_t tightest_gap(const MapResult& map);

/// One input: lines of the chosen gaps (indices into MapResult::gaps, none = all). Two inputs: bands and contour lines
/// of the first chosen gap (none = tightest_gap). Between the values that were computed everything is drawn straight.
/// Throws Error for an index that there is not, or a map without cells for all its values.
std::string plot_map(const MapResult& map, const std::vector<std::size_t>& gaps, PlotFile kind, const Format& format);

/// A value that a plot marks with a line across.
struct PlotLine {
  double value = 0;
  std::string label;  ///< "worst case"
};

/// How often a value came out. `unit` "mm" is drawn as Format says; any other, and none, as it is.
struct Histogram {
  std::string title, subtitle;
  std::string quantity;  ///< what the values are: "least travel, intake"
  std::string unit = "mm";
  std::vector<double> samples;        ///< either these: one value each time; NaN = there was none
  std::vector<double> edges, counts;  ///< or these: rising edges, one count fewer; used where there are no samples
  double asked = NAN;  ///< the share below it is written: exact for samples, straight within a bin for counts
  std::vector<PlotLine> lines;
  std::vector<std::string> notes;  ///< written below
};
/// Throws Error where edges and counts do not go together.
std::string plot_histogram(const Histogram& histogram, PlotFile kind, const Format& format);

/// Signed amounts, drawn in their order. `unit` as in Histogram.
struct Bars {
  struct Row {
    std::string label;
    double value = 0;
  };
  std::string title, subtitle;
  std::string quantity;  ///< what the values are: "change of least travel"
  std::string unit = "mm";
  std::vector<Row> rows;
  std::vector<std::string> notes;  ///< written below
};
std::string plot_bars(const Bars& bars, PlotFile kind, const Format& format);

}  // namespace eyebrow
