#include "plot_labels.hpp"

#include <algorithm>
#include <cmath>

namespace eyebrow::plot {
namespace {

constexpr double kPiece = 3;           // points of a line's length that count as one
constexpr double kLeaderShare = 0.25;  // of a piece's price where a leader runs over it
constexpr double kRoom = 2;            // between labels

}  // namespace

Place nearest_in(const Box& box, Place place) {
  return {std::clamp(place.x, box.left, box.right), std::clamp(place.y, box.top, box.bottom)};
}

void Labels::avoid(const std::vector<Place>& line, double price) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    const Place a = line[i - 1], b = line[i];
    // What lies outside disturbs no label; a line that crosses the page from far away is none to count along.
    if (!frame_.grown(200).holds(a) || !frame_.grown(200).holds(b)) continue;
    const int pieces = 1 + static_cast<int>(std::hypot(b.x - a.x, b.y - a.y) / kPiece);
    for (int k = 0; k < pieces; ++k)
      lines_.push_back({{a.x + (b.x - a.x) * k / pieces, a.y + (b.y - a.y) * k / pieces}, price});
  }
}

bool Labels::free(const Box& box) const {
  const auto off = [around = box.grown(kRoom)](const Box& each) { return each.meets(around); };
  return frame_.holds(box) && std::none_of(taken_.begin(), taken_.end(), off) &&
         std::none_of(crossed_.begin(), crossed_.end(), off);
}

double Labels::price(const Box& box) const {
  const Box around = box.grown(1);
  double sum = 0;
  for (const Piece& piece : lines_)
    if (around.holds(piece.at)) sum += piece.price;
  return sum;
}

std::optional<Box> Labels::take(const std::vector<Box>& candidates) {
  const Box* best = nullptr;
  double least = INFINITY;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const double rank = static_cast<double>(i);
    if (rank >= least || !free(candidates[i])) continue;
    const double at = rank + price(candidates[i]);
    if (at >= least) continue;
    least = at;
    best = &candidates[i];
  }
  if (!best) return std::nullopt;
  taken_.push_back(*best);
  return *best;
}

std::optional<Box> Labels::take_around(Place place, double width, double height, const Box& own) {
  std::optional<Box> best;
  double least = INFINITY;
  // Rings of places, each a little further; right of the mark and above it come first.
  for (double away = 12; away < 220; away += 8)
    for (int turn = 0; turn < 24; ++turn) {
      const double angle = (turn % 2 == 0 ? turn / 2 : -(turn + 1) / 2) * kPi / 12 - kPi / 6;
      const double x = place.x + away * std::cos(angle), y = place.y + away * std::sin(angle);
      const double left = std::cos(angle) >= 0 ? x : x - width;
      const Box box{left, y - height / 2, left + width, y + height / 2};
      double at = away / 8 + turn * 0.05;
      if (at >= least || !free(box)) continue;
      const Place end = nearest_in(box, place);
      bool clear = true;
      for (double s = 0.05; clear && s < 1; s += 0.05) {
        const Place p{place.x + s * (end.x - place.x), place.y + s * (end.y - place.y)};
        clear =
            own.holds(p) || std::none_of(taken_.begin(), taken_.end(), [&](const Box& each) { return each.holds(p); });
      }
      if (!clear) continue;
      at += price(box);
      for (const auto& [p, price_of] : lines_) {
        // Lines that the leader runs along or across.
        const double length = std::hypot(end.x - place.x, end.y - place.y);
        if (length <= 0) break;
        const double along =
            ((p.x - place.x) * (end.x - place.x) + (p.y - place.y) * (end.y - place.y)) / (length * length);
        const double across =
            std::fabs((p.x - place.x) * (end.y - place.y) - (p.y - place.y) * (end.x - place.x)) / length;
        if (along > 0 && along < 1 && across < kPiece / 2) at += kLeaderShare * price_of;
        if (at >= least) break;
      }
      if (at >= least) continue;
      least = at;
      best = box;
    }
  if (best) taken_.push_back(*best);
  return best;
}

}  // namespace eyebrow::plot
