#include "plot_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "plot_frame.hpp"
#include "verdict_text.hpp"

namespace eyebrow::plot {
namespace {

// mm: travel and face are often the same gap, and then both just hold on the same line.
constexpr double kSame = 1e-9;

void check(const MapResult& map) {
  if (map.inputs.empty() || map.inputs.size() > 2) throw Error("a map is over one input or two");
  std::size_t count = 1;
  for (const Varied& input : map.inputs) {
    count *= input.values.size();
    for (std::size_t i = 0; i < input.values.size(); ++i)
      if (!drawable(input.values[i]) || (i > 0 && input.values[i] <= input.values[i - 1]))
        throw Error("the values of " + input.key + " do not rise");
  }
  if (count == 0 || map.cells.size() != count) throw Error("a map needs one cell for each of its values");
  if (map.gaps.empty()) throw Error("a map without gaps cannot be drawn");
  for (const MapCell& cell : map.cells)
    if (cell.possible() && cell.found.size() != map.gaps.size()) throw Error("a cell of a map has not all its gaps");
}

/// The value nearest to today's; nothing where that is not known, or not between the first and the last.
std::optional<std::size_t> nearest_now(const Varied& input) {
  if (!drawable(input.now) || input.now < input.values.front() || input.now > input.values.back()) return std::nullopt;
  std::size_t best = 0;
  for (std::size_t i = 0; i < input.values.size(); ++i)
    if (std::fabs(input.values[i] - input.now) < std::fabs(input.values[best] - input.now)) best = i;
  return best;
}

}  // namespace

std::string gap_title(const MapGap& gap) {
  const std::string name = gap.valve.empty() ? gap.what : printable(gap.valve, 60) + ", " + gap.what;
  return gap.running ? name + ", running" : name;
}

std::string input_text(const Varied& input, double value) {
  return input.unit.empty() ? input_text(value) : input_text(value) + ' ' + input.unit;
}

std::string input_title(const Varied& input) {
  return input.unit.empty() ? input.key : input.key + " (" + input.unit + ')';
}

std::string changed_text(const MapResult& map) {
  std::string text;
  for (const std::string& change : map.changed) text += (text.empty() ? "" : ", ") + printable(change, 100);
  return text.empty() ? "" : " Changed from the file: " + text + '.';
}

std::vector<std::string> map_notes() {
  return {"Least gaps over every crank angle. Computed at the given values of the input, drawn straight between.",
          kCaution};
}

namespace {

Grid margins_of(const MapResult& map, std::size_t gap) {
  Grid grid{map.inputs[0].values, map.inputs[1].values, {}};
  for (const MapCell& cell : map.cells) {
    const double margin = cell.possible() ? cell.found[gap] - map.gaps[gap].required : NAN;
    grid.z.push_back(drawable(margin) ? margin : NAN);
  }
  return grid;
}

/// Is the corner's being not allowed told by a gap that has a number at all corners of the cell?
bool told(const std::vector<Grid>& margins, std::size_t i, std::size_t k, std::size_t a, std::size_t b) {
  return std::any_of(margins.begin(), margins.end(), [&](const Grid& of) {
    return of.at(a, b) < 0 && !std::isnan(of.at(i, k) + of.at(i + 1, k) + of.at(i, k + 1) + of.at(i + 1, k + 1));
  });
}

}  // namespace

NotAllowed not_allowed(const MapResult& map) {
  NotAllowed out;
  std::vector<Grid> margins;
  for (std::size_t g = 0; g < map.gaps.size(); ++g) margins.push_back(margins_of(map, g));
  for (const Grid& of : margins)
    for (Polygon& polygon : region(of, -INFINITY, 0)) out.region.push_back(std::move(polygon));
  // A piece of the border counts where no other gap is short.
  for (const Grid& of : margins)
    for (const std::vector<Place>& chain : contour(of, 0))
      for (std::size_t p = 1; p < chain.size(); ++p) {
        const Place middle{(chain[p - 1].x + chain[p].x) / 2, (chain[p - 1].y + chain[p].y) / 2};
        const bool inside = std::any_of(margins.begin(), margins.end(), [&](const Grid& other) {
          return &other != &of && value_at(other, middle) < -kSame;
        });
        if (inside) continue;
        if (!out.border.empty() && p > 1 && out.border.back().back().x == chain[p - 1].x &&
            out.border.back().back().y == chain[p - 1].y)
          out.border.back().push_back(chain[p]);
        else
          out.border.push_back({chain[p - 1], chain[p]});
      }
  for (std::size_t k = 0; k + 1 < map.inputs[1].values.size(); ++k)
    for (std::size_t i = 0; i + 1 < map.inputs[0].values.size(); ++i) {
      bool whole = false, possible = true;
      for (const std::size_t b : {k, k + 1})
        for (const std::size_t a : {i, i + 1}) {
          const MapCell& cell = map.at(a, b);
          possible = possible && cell.possible();
          whole = whole || (cell.possible() && !cell.allowed() && !told(margins, i, k, a, b));
        }
      if (!possible)
        out.no_engine.push_back(cell_of(margins[0], i, k));
      else if (whole)
        out.region.push_back(cell_of(margins[0], i, k));
    }
  return out;
}

std::size_t tightest(const MapResult& map) {
  check(map);
  std::vector<const MapCell*> cells;
  const auto i = nearest_now(map.inputs[0]);
  const auto k = map.inputs.size() > 1 ? nearest_now(map.inputs[1]) : std::optional<std::size_t>(0);
  if (i && k && map.at(*i, *k).possible())
    cells = {&map.at(*i, *k)};
  else
    for (const MapCell& cell : map.cells) cells.push_back(&cell);
  std::size_t best = 0;
  double least = INFINITY;
  for (const MapCell* cell : cells)
    for (std::size_t g = 0; cell->possible() && g < map.gaps.size(); ++g)
      if (const double margin = cell->found[g] - map.gaps[g].required; drawable(margin) && margin < least) {
        least = margin;
        best = g;
      }
  return best;
}

MapDrawn draw_map(const MapResult& map, const std::vector<std::size_t>& gaps, PlotFile kind, const Format& format) {
  check(map);
  for (const std::size_t gap : gaps)
    if (gap >= map.gaps.size()) throw Error(fmt::format("a map of {} gaps has no gap {}", map.gaps.size(), gap));
  const bool second = map.inputs.size() > 1;
  if (second && map.inputs[0].values.size() > 1 && map.inputs[1].values.size() > 1)
    return draw_map_bands(map, gaps.empty() ? tightest(map) : gaps.front(), kind, format);

  MapCut cut;
  const bool over_second = second && map.inputs[1].values.size() > 1;
  cut.input = &map.inputs[over_second ? 1 : 0];
  for (const MapCell& cell : map.cells) cut.cells.push_back(&cell);
  if (second) {
    const Varied& other = map.inputs[over_second ? 0 : 1];
    cut.fixed = other.key + ' ' + input_text(other, other.values.front());
  }
  std::vector<std::size_t> all = gaps;
  for (std::size_t g = 0; gaps.empty() && g < map.gaps.size(); ++g) all.push_back(g);
  return draw_map_lines(map, cut, all, kind, format);
}

}  // namespace eyebrow::plot

namespace eyebrow {

std::size_t tightest_gap(const MapResult& map) {
  return plot::tightest(map);
}

std::string plot_map(const MapResult& map, const std::vector<std::size_t>& gaps, PlotFile kind, const Format& format) {
  return plot::draw_map(map, gaps, kind, format).page.finish();
}

}  // namespace eyebrow
