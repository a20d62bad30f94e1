// The best pocket by the model, over place, diameter and depth.
#pragma once
#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <vector>

#include "eyebrow/pocket_sizing.hpp"
#include "study/pocket_model.hpp"

namespace eyebrow::study {

/// What the search has to keep to.
struct PocketLimits {
  AskedValve asked;
  /// Of margins: exact less the model's, added to the model's.
  ModelMargins off{0, 0, 0, 0, 0};
  double in_hand = 0;                ///< of the gaps across: what rounding the place may take
  std::optional<PocketShape> place;  ///< x and y are held
  double least_radius = 0;
  std::optional<double> highest_floor;  ///< the floor's plane is no higher
  std::vector<double> radii;            ///< to choose from, rising; empty = any
  PocketWish::Goal goal = PocketWish::Goal::least_volume;
  double over_groove = 0, over_underside = 0, between = 0;
  std::vector<Tool> neighbours;
  std::function<void()> poll = {};  ///< called now and then; may throw to end the search
};

/// The metal that the tool leaves, by its surface places; infinite where the engine file does not let know.
struct ModelMetal {
  double groove = INFINITY, underside = INFINITY, neighbour = INFINITY;
  double edge = INFINITY;  ///< to the crown's edge, as PocketModel::edge
  double thinnest() const { return std::min({groove, underside, neighbour, edge}); }
};
/// `between_upto`: what is more to a neighbour is told as this.
ModelMetal metal_left(const Piston& piston, const PocketModel& model, const PocketShape& shape,
                      const std::vector<Tool>& neighbours, double between_upto = INFINITY);

/// From `from`: the shape of least cost. Its gaps hold by the model as corrected, where it can be.
PocketShape best_shape(const Piston& piston, const PocketModel& model, const PocketLimits& limits, PocketShape from,
                       double first_step = 0.8);

}  // namespace eyebrow::study
