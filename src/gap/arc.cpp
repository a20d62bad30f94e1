#include "arc.hpp"

#include <algorithm>
#include <optional>

#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr double kMostHalf = 1.6;  // radians: three points fix a longer arc badly

std::optional<Arc> line(Vec3 from, Vec3 to) {
  const double length = norm(to - from);
  if (!(length > 0)) return std::nullopt;
  return Arc{0.5 * (from + to), {}, (1 / length) * (to - from), 0.5 * length, true};
}

/// The circle's piece from `from` over `by` to `to`.
std::optional<Arc> circle(Vec3 from, Vec3 by, Vec3 to) {
  const Vec3 u = by - from, v = to - from, n = cross(u, v);
  const double square = dot(n, n);
  if (!(square > 0)) return std::nullopt;
  const Vec3 to_centre = (1 / (2 * square)) * (dot(u, u) * cross(v, n) + dot(v, v) * cross(n, u));
  const Vec3 centre = from + to_centre;
  const double radius = norm(to_centre);
  const Vec3 axis = unit(n), x = (1 / radius) * (from - centre), y = cross(axis, x);
  double sweep = std::atan2(dot(to - centre, y), dot(to - centre, x));
  if (sweep <= 0) sweep += 2 * kPi;
  const double middle = sweep / 2;
  if (middle > kMostHalf) return std::nullopt;
  Arc arc;
  arc.centre = centre;
  arc.half = middle;
  arc.a = radius * (std::cos(middle) * x + std::sin(middle) * y);
  arc.b = radius * (std::cos(middle) * y - std::sin(middle) * x);
  return arc;
}

double off(const Arc& arc, Vec3 p) {
  const Vec3 d = p - arc.centre;
  if (arc.straight) return norm(d - dot(d, arc.b) * arc.b);
  const double radius = norm(arc.a);
  const double above = dot(d, cross(arc.a, arc.b)) / (radius * radius);
  const double aside = diagonal(dot(d, arc.a), dot(d, arc.b)) / radius - radius;
  return diagonal(above, aside);
}

/// One arc over points[first ... last]; none when some point is off it.
std::optional<Arc> fit(const std::vector<Vec3>& points, std::size_t first, std::size_t last) {
  std::optional<Arc> arc = line(points[first], points[last]);
  const auto passes = [&](const std::optional<Arc>& candidate) {
    if (!candidate) return false;
    for (std::size_t i = first + 1; i < last; ++i)
      if (!(off(*candidate, points[i]) <= kArcFit)) return false;
    return true;
  };
  if (last == first + 1 || passes(arc)) return arc;
  arc = circle(points[first], points[(first + last) / 2], points[last]);
  return passes(arc) ? arc : std::nullopt;
}

}  // namespace

std::vector<Arc> arcs_through(const std::vector<Vec3>& points) {
  std::vector<Arc> arcs;
  std::size_t first = 0;
  while (first + 1 < points.size()) {
    // The furthest point that one arc reaches: doubling, then halving.
    std::size_t good = std::min(first + 2, points.size() - 1), bad = points.size();
    if (!fit(points, first, good)) good = first + 1;
    for (std::size_t step = 2; good + step < points.size(); step *= 2) {
      if (!fit(points, first, good + step)) {
        bad = good + step;
        break;
      }
      good += step;
    }
    while (good + 1 < bad) {
      const std::size_t middle = (good + bad) / 2;
      (fit(points, first, middle) ? good : bad) = middle;
    }
    // A last piece of two points would be a chord: it gets a third.
    if (good + 2 == points.size() && good >= first + 3) --good;
    if (const std::optional<Arc> arc = fit(points, first, good)) arcs.push_back(*arc);
    first = good;
  }
  return arcs;
}

}  // namespace eyebrow::gap
