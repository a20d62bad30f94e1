#include "study/refine.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

constexpr int kParts = 4;  // pieces that a stretch is split into

/// How the parts travel against each other between two crank angles.
struct Movement {
  double way = 0;    ///< along the path
  double chord = 0;  ///< straight
  double sag = 0;    ///< greatest distance of the path from the chord
};

Movement movement(const CyclePath& path, double from, double to) {
  constexpr int kSteps = 4;
  std::array<Vec3, kSteps + 1> places;
  for (int i = 0; i <= kSteps; ++i) places[i] = path.place(from + (to - from) * i / kSteps);
  const Vec3 chord = places[kSteps] - places[0];
  const double square = dot(chord, chord);
  Movement moved;
  for (int i = 1; i <= kSteps; ++i) {
    const Vec3 arm = places[i] - places[0];
    const double along = square > 0 ? std::clamp(dot(arm, chord) / square, 0.0, 1.0) : 0.0;
    moved.way += kPathFactor * norm(places[i] - places[i - 1]);
    moved.sag = std::max(moved.sag, kPathFactor * norm(arm - along * chord));
  }
  moved.chord = std::sqrt(square);
  return moved;
}

/// |slope| between neighbours; 0 where there is none to take.
double slope(const std::vector<CyclePoint>& points, std::size_t i) {
  if (i + 1 >= points.size()) return 0;
  const double rise = std::fabs(points[i + 1].value - points[i].value);
  return std::isnan(rise) ? 0 : rise / (points[i + 1].crank - points[i].crank);
}

/// The least of the points, of equals the one nearest overlap TDC; the size when there is none.
std::size_t best_of(const std::vector<CyclePoint>& points) {
  double least = INFINITY;
  for (const CyclePoint& point : points) least = std::fmin(least, point.value);
  std::size_t best = points.size();
  for (std::size_t i = 0; i < points.size(); ++i)
    if (points[i].value <= least + kTie &&
        (best == points.size() || std::fabs(points[i].crank) < std::fabs(points[best].crank)))
      best = i;
  return best;
}

/// What a distance between rigid parts cannot fall below between two known places. It is 1-Lipschitz in their relative
/// place; and as long as it is at least `floor` it bends down no more than a sphere of that radius does, so that on a
/// straight way it lies at most chord^2 / (8 floor) under the line between its ends (semiconcavity).
double distance_bound(double a, double b, const Movement& moved, double floor) {
  return std::max(floor, std::min(a, b) - moved.chord * moved.chord / (8 * floor) - moved.sag);
}

bool could_hide_lower(const CyclePath& path, const std::vector<CyclePoint>& points, std::size_t i, double best) {
  const double a = points[i].value, b = points[i + 1].value;
  const double width = points[i + 1].crank - points[i].crank, enough = best - path.tolerance;
  if (width <= kFinestAngle || (std::isnan(a) && std::isnan(b))) return false;
  const Movement moved = movement(path, points[i].crank, points[i + 1].crank);
  const double lower = std::fmin(a, b);
  // Where a gap begins to exist it can begin anywhere, but not far below its neighbour.
  if (std::isnan(a) || std::isnan(b)) return lower - kAppearing * moved.way < best;
  const double floor = 0.5 * (a + b - moved.way);
  if (path.distance && floor > 0) return width > kSmoothAngle && distance_bound(a, b, moved, floor) < enough;
  const double before = i > 0 ? slope(points, i - 1) : 0;
  const double room = std::max({before, slope(points, i), slope(points, i + 1)}) * width;
  if (width <= kSmoothAngle && room < kJumpStep) return false;
  return lower - room - (width > kMovementAngle ? moved.way : 0) < enough;
}

std::vector<CyclePoint> subdivide(const CyclePath& path, std::vector<CyclePoint> points) {
  for (bool split = true; split;) {
    split = false;
    const std::size_t best = best_of(points);
    if (best == points.size()) break;
    std::vector<CyclePoint> next;
    next.reserve(2 * points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      next.push_back(points[i]);
      if (i + 1 == points.size()) continue;
      // Either side of the best is narrowed on, for its crank angle's sake.
      const bool beside = (i == best || i + 1 == best) && points[i + 1].crank - points[i].crank > kSmoothAngle;
      if (!beside && !could_hide_lower(path, points, i, points[best].value)) continue;
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
  const std::size_t at = best_of(points);
  Least least;
  if (at == points.size()) return least;
  least.found = true;
  least.crank = points[at].crank;
  least.value = points[at].value;

  const double limit = least.value + kSpanBand;
  std::size_t from = at, to = at;
  while (from > 0 && points[from - 1].value <= limit) --from;
  while (to + 1 < points.size() && points[to + 1].value <= limit) ++to;
  least.span_from = from == 0 ? points[0].crank : span_end(path, points[from].crank, points[from - 1].crank, limit);
  least.span_to =
      to + 1 == points.size() ? points[to].crank : span_end(path, points[to].crank, points[to + 1].crank, limit);
  return least;
}

}  // namespace eyebrow::study
