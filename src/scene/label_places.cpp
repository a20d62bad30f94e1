#include "scene/label_places.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace eyebrow::scene {
namespace {

constexpr int kDirections = 24, kRings = 14;
constexpr double kApart = 4;  // pixels between two labels

Area around(Spot2 middle, const LabelWish& wish) {
  return {middle.x - wish.width / 2, middle.y - wish.height / 2, middle.x + wish.width / 2, middle.y + wish.height / 2};
}

Area grown(const Area& area, double by) {
  return {area.left - by, area.bottom - by, area.right + by, area.top + by};
}

/// The same size, moved onto the page where it pokes out.
Area onto(const Area& page, Area area) {
  const double right = std::max(0.0, page.left - area.left) - std::max(0.0, area.right - page.right);
  const double up = std::max(0.0, page.bottom - area.bottom) - std::max(0.0, area.top - page.top);
  return {area.left + right, area.bottom + up, area.right + right, area.top + up};
}

/// Does the straight way from one place to another cross the area? Liang and Barsky's clipping (1984).
bool crosses(Spot2 from, Spot2 to, const Area& area) {
  double enter = 0, leave = 1;
  const double dx = to.x - from.x, dy = to.y - from.y;
  for (const auto& [p, q] : {std::pair{-dx, from.x - area.left}, std::pair{dx, area.right - from.x},
                             std::pair{-dy, from.y - area.bottom}, std::pair{dy, area.top - from.y}}) {
    if (p == 0 && q < 0) return false;
    if (p < 0) enter = std::max(enter, q / p);
    if (p > 0) leave = std::min(leave, q / p);
  }
  return enter < leave;
}

}  // namespace

std::vector<Area> place_labels(const std::vector<LabelWish>& wishes, const std::vector<Area>& keep_free,
                               const Area& page) {
  std::vector<Area> placed;
  double below = page.bottom;
  for (const LabelWish& wish : wishes) {
    double best = std::numeric_limits<double>::infinity();
    Area chosen{};
    for (int ring = 0; ring < kRings; ++ring)
      for (int k = 0; k < kDirections; ++k) {
        const double angle = 2 * std::numbers::pi * k / kDirections;
        const double way = wish.height * (1.2 + 0.8 * ring);
        // Beside the place rather than over it: a label is wider than it is high.
        const Area area = onto(
            page,
            around({wish.at.x + std::cos(angle) * (way + wish.width / 2), wish.at.y + std::sin(angle) * way}, wish));
        const Spot2 middle = area.middle();
        if (!page.holds(area)) continue;
        if (std::ranges::any_of(placed, [&](const Area& other) { return grown(other, kApart).meets(area); })) continue;
        double cost = way;
        for (const Area& free : keep_free) cost += free.meets(area) ? 20 * wish.height : 0;
        for (std::size_t i = 0; i < placed.size(); ++i) {
          cost += crosses(middle, wish.at, placed[i]) ? 6 * wish.height : 0;
          cost += crosses(placed[i].middle(), wishes[i].at, area) ? 6 * wish.height : 0;
        }
        if (cost < best) best = cost, chosen = area;
      }
    if (std::isinf(best)) {
      chosen = {page.left, below - wish.height, page.left + wish.width, below};
      below -= wish.height + kApart;
    }
    placed.push_back(chosen);
  }
  return placed;
}

}  // namespace eyebrow::scene
