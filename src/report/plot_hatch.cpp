// Hatching: the pieces of slanting lines that lie over polygons. Not by the drawing library's clipping, which some
// readers of PDF do not follow where there are many polygons.
#include <algorithm>
#include <cmath>
#include <map>

#include "plot_page.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kTouch = 1e-6;  // points: pieces that are no further apart are one

/// Lines x + lean * y = number * step over the polygons; lean is 1 or -1.
void add_lines(const std::vector<Polygon>& polygons, double step, double lean,
               std::vector<std::pair<Place, Place>>& out) {
  std::map<long, std::vector<std::pair<double, double>>> pieces;  // by number: from x to x
  for (const Polygon& polygon : polygons) {
    double least = INFINITY, most = -INFINITY;
    for (const Place& p : polygon) {
      least = std::min(least, p.x + lean * p.y);
      most = std::max(most, p.x + lean * p.y);
    }
    if (!(most > least)) continue;
    for (long number = std::lround(std::ceil(least / step)); static_cast<double>(number) * step < most; ++number) {
      const double s = static_cast<double>(number) * step;
      double from = INFINITY, to = -INFINITY;
      for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Place a = polygon[i], b = polygon[(i + 1) % polygon.size()];
        const double at = a.x + lean * a.y - s, next = b.x + lean * b.y - s;
        if (at != next && (at <= 0) != (next <= 0)) {
          const double x = a.x + (b.x - a.x) * at / (at - next);
          from = std::min(from, x);
          to = std::max(to, x);
        }
      }
      if (from < to) pieces[number].push_back({from, to});
    }
  }
  for (auto& [number, list] : pieces) {
    std::sort(list.begin(), list.end());
    const double s = static_cast<double>(number) * step;
    const auto add = [&](double from, double to) { out.push_back({{from, lean * (s - from)}, {to, lean * (s - to)}}); };
    double from = list.front().first, to = list.front().second;
    for (const auto& [next_from, next_to] : list) {
      if (next_from > to + kTouch) {
        add(from, to);
        from = next_from;
      }
      to = std::max(to, next_to);
    }
    add(from, to);
  }
}

}  // namespace

std::vector<std::pair<Place, Place>> hatch_lines(const std::vector<Polygon>& polygons, double apart, bool crossed) {
  std::vector<std::pair<Place, Place>> out;
  const double step = apart * std::sqrt(2.0);
  add_lines(polygons, step, 1, out);
  if (crossed) add_lines(polygons, step, -1, out);
  return out;
}

}  // namespace eyebrow::plot
