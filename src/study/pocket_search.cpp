#include "study/pocket_search.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solid/void_beyond.hpp"

namespace eyebrow::study {
namespace {

constexpr int kSettleRounds = 12;      // each makes what is left of a margin a tenth or less
constexpr double kSettled = 2e-4;      // mm
constexpr double kLastShift = 0.001;   // mm
constexpr double kLeastDepth = 0.05;   // mm
constexpr double kMostOfCrown = 0.95;  // of the way to the underside
constexpr double kMostChange = 3;      // mm in a round
constexpr double kPerMissing = 1e7;    // mm3 a mm of what is missing: more than any pocket is worth
constexpr int kDirections = 8;         // of a step over the crown flat
constexpr double kTurn = 0.3;          // radians: from step to step, so that none is left out for good
constexpr double kGapsFirst = 10;      // a gap that is missing counts so many times the metal that is
constexpr int kStride = 12;            // moves by one step, then it is doubled: along a ridge it would creep
constexpr int kMostMoves = 300;        // a search that comes to an end takes some ten
constexpr double kLeastRadius = 0.5;   // mm: no cutter is narrower
constexpr double kWidest = 1.5;        // times where it starts: a pocket is its own valve's
constexpr double kStray = 100;         // a place beyond that counts so many times what is missing
constexpr int kMostAgain = 4;          // searches from where the last one ended
constexpr double kPerThickness = 1e5;  // mm3 a mm of metal, where metal is the goal

class ShapeSearch {
 public:
  ShapeSearch(const Piston& piston, const PocketModel& model, const PocketLimits& limits)
      : piston_(piston), model_(model), limits_(limits) {}

  PocketShape run(PocketShape from, double first_step) {
    origin_ = limits_.place ? *limits_.place : from;
    warm_ = from;
    Places at{};
    Found best = look(at);
    warm_ = best.shape;
    double turn = 0;  // with the step: along the edge of what is allowed only some directions go on
    int moved = 0, in_a_row = 0;
    for (double step = first_step; step > kLastShift && moved < kMostMoves;) {
      if (limits_.poll) limits_.poll();
      std::vector<Places> moves;
      if (!limits_.place)
        for (int i = 0; i < kDirections; ++i) {
          const double azimuth = turn + 2 * kPi * i / kDirections;
          moves.push_back({step * std::cos(azimuth), step * std::sin(azimuth), 0, 0});
        }
      for (const double way : {-step, step}) {
        moves.push_back({0, 0, way, 0});
        moves.push_back({0, 0, 0, way});
      }
      Found better = best;
      Places there = at;
      for (const Places& move : moves) {
        Places next = at;
        for (std::size_t i = 0; i < next.size(); ++i) next[i] += move[i];
        for (const std::size_t i : {kWider, kDeeper}) next[i] = std::max(0.0, next[i]);
        if (next == at) continue;
        const Found found = look(next);
        if (found.cost < better.cost) better = found, there = next;
      }
      if (there == at) {
        step /= 2;
        turn += kTurn;
        in_a_row = 0;
        continue;
      }
      ++moved;
      if (++in_a_row % kStride == 0) step = std::min(first_step, 2 * step);
      best = better;
      at = there;
      warm_ = best.shape;
      warm_wider_ = at[kWider];
    }
    return best.shape;
  }

 private:
  /// A floor that still cuts something.
  double highest(double radius) const {
    const Vec3 axis = model_.axis();
    return (radius * std::hypot(axis.x, axis.y) - kLeastDepth) / axis.z;
  }

  /// A floor that leaves some of the crown: no gap is worth going through it, whatever a cutter is too narrow for.
  double deepest(double radius) const {
    const Vec3 axis = model_.axis();
    const double crown = piston_.underside.value_or(piston_.crown_diameter / 2);
    return (radius * std::hypot(axis.x, axis.y) - kMostOfCrown * crown) / axis.z;
  }

  /// Place along and across the lean, and by how much the pocket is wider and deeper than it need be by itself: the
  /// one may let the other be less.
  using Places = std::array<double, 4>;
  static constexpr std::size_t kWider = 2, kDeeper = 3;

  struct Found {
    PocketShape shape;
    double cost = INFINITY;
  };

  ModelMargins corrected(const PocketShape& shape) const {
    ModelMargins m = model_.margins(shape, limits_.asked);
    m.travel += limits_.off.travel;
    m.face += limits_.off.face;
    m.radial += limits_.off.radial - limits_.in_hand;
    m.closest_floor += limits_.off.closest_floor;
    m.closest_wall += limits_.off.closest_wall - limits_.in_hand;
    return m;
  }

  /// By how much it is not about its own valve any more: further aside than the head is wide, or wider than any such
  /// pocket has to be. What is asked for cannot be had there either.
  double stray(const PocketShape& shape) const {
    const double aside = std::hypot(shape.x - home_.x, shape.y - home_.y) - home_.radius;
    double widest = std::max(kWidest * home_.radius, limits_.least_radius);
    if (!limits_.radii.empty()) widest = std::max(widest, limits_.radii.front());
    return std::max(0.0, aside) + std::max(0.0, shape.radius - widest);
  }

  /// The narrowest and shallowest pocket at a place, made wider by `wider`.
  Found look(const Places& at) const {
    const Vec3 across = model_.across(), aside{-across.y, across.x, 0};
    PocketShape shape = warm_;
    shape.x = origin_.x + at[0] * across.x + at[1] * aside.x;
    shape.y = origin_.y + at[0] * across.y + at[1] * aside.y;
    const double least = std::max({limits_.least_radius, model_.corner() + 0.1, kLeastRadius});
    double narrow = warm_.radius - warm_wider_;
    ModelMargins m;
    for (int round = 0; round < kSettleRounds; ++round) {
      m = corrected(shape);
      const double was = shape.floor;
      shape.floor += std::clamp(std::isfinite(m.axial()) ? m.axial() - at[kDeeper] : 1.0, -kMostChange, kMostChange);
      if (limits_.highest_floor) shape.floor = std::min(shape.floor, *limits_.highest_floor);
      shape.floor = std::max(std::min(shape.floor, highest(shape.radius)), deepest(shape.radius));
      double moved = std::fabs(shape.floor - was);
      // The wall at that floor.
      m = corrected(shape);
      const double before = narrow;
      narrow -= std::clamp(std::isfinite(m.across()) ? m.across() - at[kWider] : 0.5, -kMostChange, kMostChange);
      narrow = std::max(least, narrow);
      moved = std::max(moved, std::fabs(narrow - before));
      shape.radius = narrow + at[kWider];
      if (!limits_.radii.empty()) {
        const auto next = std::lower_bound(limits_.radii.begin(), limits_.radii.end(), shape.radius - 1e-9);
        shape.radius = next == limits_.radii.end() ? limits_.radii.back() : *next;
      }
      if (moved < kSettled) break;
    }
    m = corrected(shape);
    double missing = kGapsFirst * std::max({0.0, -m.axial() - 2 * kSettled, -m.across() - 2 * kSettled});
    const bool asks = limits_.over_groove > 0 || limits_.over_underside > 0 || limits_.between > 0;
    missing += kStray * stray(shape);
    double cost = model_.volume(shape);
    if (asks || limits_.goal == PocketWish::Goal::thickest) {
      const bool all = limits_.goal == PocketWish::Goal::thickest;
      const ModelMetal left = metal_left(piston_, model_, shape, limits_.neighbours, all ? INFINITY : limits_.between);
      missing += std::max(0.0, limits_.over_groove - left.groove) +
                 std::max(0.0, limits_.over_underside - left.underside) +
                 std::max(0.0, limits_.between - left.neighbour);
      if (limits_.goal == PocketWish::Goal::thickest) cost -= kPerThickness * std::min(left.thinnest(), 100.0);
    }
    return {shape, cost + kPerMissing * missing};
  }

  const Piston& piston_;
  const PocketModel& model_;
  const PocketLimits& limits_;
  PocketShape home_ = model_.start(), origin_, warm_;
  double warm_wider_ = 0;
};

}  // namespace

ModelMetal metal_left(const Piston& piston, const PocketModel& model, const PocketShape& shape,
                      const std::vector<Tool>& neighbours, double between_upto) {
  ModelMetal left;
  left.neighbour = between_upto;
  const double radius = piston.crown_diameter / 2;
  std::vector<ToolBeyond> others;
  for (const Tool& tool : neighbours) others.emplace_back(tool, 0.0, radius);
  for (const Vec3& at : model.surface(shape)) {
    if (piston.top_land_height && piston.ring_groove_depth)
      left.groove =
          std::min(left.groove, see_groove(radius - *piston.ring_groove_depth, *piston.top_land_height, at).distance);
    if (piston.underside) left.underside = std::min(left.underside, see_underside(*piston.underside, at).distance);
    if (at.z <= 0)
      for (const ToolBeyond& other : others)
        if (other.at_least(at) < left.neighbour) left.neighbour = std::min(left.neighbour, other(at).distance);
  }
  left.edge = model.edge(shape);
  return left;
}

PocketShape best_shape(const Piston& piston, const PocketModel& model, const PocketLimits& limits, PocketShape from,
                       double first_step) {
  const auto thick = [&](const PocketShape& shape) {
    return metal_left(piston, model, shape, limits.neighbours).thinnest();
  };
  PocketShape best = ShapeSearch(piston, model, limits).run(from, first_step);
  if (limits.goal != PocketWish::Goal::thickest) return best;
  // The thinnest of several walls has ridges, on which a search by steps may halve them too early: it goes on with wide
  // ones until that is worth nothing.
  for (int i = 0; i < kMostAgain; ++i) {
    const PocketShape next = ShapeSearch(piston, model, limits).run(best, first_step);
    const bool more = thick(next) > thick(best) + kLastShift;
    best = next;
    if (!more) break;
  }
  return best;
}

}  // namespace eyebrow::study
