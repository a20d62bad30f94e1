#include "study/refine.hpp"

#include <algorithm>
#include <cmath>

#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

constexpr int kParts = 4;  // pieces that a stretch is split into

double way(const CyclePath& path, double from, double to) {
  constexpr int kChords = 4;
  double length = 0;
  Vec3 last = path.place(from);
  for (int i = 1; i <= kChords; ++i) {
    const Vec3 next = path.place(from + (to - from) * i / kChords);
    length += norm(next - last);
    last = next;
  }
  return kChordFactor * length;
}

/// |slope| between neighbours; 0 where there is none to take.
double slope(const std::vector<CyclePoint>& points, std::size_t i) {
  if (i + 1 >= points.size()) return 0;
  const double rise = std::fabs(points[i + 1].value - points[i].value);
  return std::isnan(rise) ? 0 : rise / (points[i + 1].crank - points[i].crank);
}

bool could_hide_lower(const CyclePath& path, const std::vector<CyclePoint>& points, std::size_t i, double best) {
  const CyclePoint &a = points[i], &b = points[i + 1];
  const double width = b.crank - a.crank;
  if (width <= kFinestAngle) return false;
  if (std::isnan(a.value) || std::isnan(b.value)) return std::isnan(a.value) != std::isnan(b.value);
  const double before = i > 0 ? slope(points, i - 1) : 0;
  double room = std::max({before, slope(points, i), slope(points, i + 1)}) * width;
  if (width <= kSmoothAngle && room < kJumpStep) return false;
  if (width > kMovementAngle) room += way(path, a.crank, b.crank);
  return std::min(a.value, b.value) - room < best - kValueTolerance;
}

double least_value(const std::vector<CyclePoint>& points) {
  double best = INFINITY;
  for (const CyclePoint& point : points) best = std::fmin(best, point.value);
  return best;
}

std::vector<CyclePoint> subdivide(const CyclePath& path, std::vector<CyclePoint> points) {
  for (bool split = true; split;) {
    split = false;
    const double best = least_value(points);
    std::vector<CyclePoint> next;
    next.reserve(2 * points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      next.push_back(points[i]);
      if (i + 1 == points.size() || !could_hide_lower(path, points, i, best)) continue;
      split = true;
      for (int k = 1; k < kParts; ++k) {
        const double crank = points[i].crank + (points[i + 1].crank - points[i].crank) * k / kParts;
        next.push_back({crank, path.value(crank)});
      }
    }
    points = std::move(next);
  }
  return points;
}

/// Where the gap leaves the band, between an angle within it and one outside.
double span_end(const CyclePath& path, double inside, double outside, double limit) {
  while (std::fabs(outside - inside) > kSpanAngle) {
    const double middle = 0.5 * (inside + outside);
    (path.value(middle) <= limit ? inside : outside) = middle;  // NaN compares false: outside
  }
  return inside;
}

}  // namespace

std::vector<double> cycle_grid(double step) {
  const double half = 2 * kPi;
  const int count = static_cast<int>(std::floor(half / step + 1e-9));
  std::vector<double> grid;
  grid.reserve(2 * static_cast<std::size_t>(count) + 3);
  const bool ends_fit = half - count * step < 1e-9 * half;
  if (!ends_fit) grid.push_back(-half);
  for (int i = -count; i <= count; ++i) grid.push_back(i * step);
  if (!ends_fit) grid.push_back(half);
  return grid;
}

Least least_over_cycle(const CyclePath& path, std::vector<CyclePoint> points) {
  points = subdivide(path, std::move(points));
  const double best = least_value(points);
  Least least;
  if (!std::isfinite(best)) return least;

  std::size_t at = points.size();
  for (std::size_t i = 0; i < points.size(); ++i)
    if (points[i].value <= best + kTie &&
        (at == points.size() || std::fabs(points[i].crank) < std::fabs(points[at].crank)))
      at = i;
  least.found = true;
  least.crank = points[at].crank;
  least.value = points[at].value;

  const double limit = best + kSpanBand;
  std::size_t from = at, to = at;
  while (from > 0 && points[from - 1].value <= limit) --from;
  while (to + 1 < points.size() && points[to + 1].value <= limit) ++to;
  least.span_from = from == 0 ? points[0].crank : span_end(path, points[from].crank, points[from - 1].crank, limit);
  least.span_to =
      to + 1 == points.size() ? points[to].crank : span_end(path, points[to].crank, points[to + 1].crank, limit);
  return least;
}

}  // namespace eyebrow::study
