// Valve to valve: no series is printed, so only the least over the cycle is looked for.
#pragma once
#include <memory>
#include <vector>

#include "study/refine.hpp"
#include "study/setup.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// Two valves as one query: the first's outline against the second's surface.
class ValvePair {
 public:
  /// `surface`: of the second, valve_surface of its profile. `outline`: the first's profile.
  ValvePair(const Setup& setup, int first, int second, const Profile& outline, std::shared_ptr<const Target> surface);
  /// Both valves drawn out upward by so much (mm): what they are at any lift up to that much below the one asked for.
  ValvePair drawn_out(double first_up, double second_up) const;
  /// Points in the block frame.
  Gap gap(double first_lift, double second_lift, bool bounds) const;
  int first() const { return first_; }
  int second() const { return second_; }
  /// Both closed.
  const Gap& closed() const { return closed_; }
  const Crown& surface() const { return crown_of(*surface_); }

 private:
  const Setup& setup_;
  int first_, second_;
  std::shared_ptr<const Target> surface_;
  Frame frame_;         ///< of the second valve; its origin rides with the lift
  ValveToSolid query_;  ///< in that frame
  Gap closed_;
};

/// What valve_pairs makes ready of each valve, which takes longest: the same for every engine with these parts.
std::vector<std::shared_ptr<const Target>> pair_surfaces(const Parts& parts);

/// Every pair of valves, first < second, queried once with both closed. `surfaces`: pair_surfaces of the setup's parts.
std::vector<ValvePair> valve_pairs(const Setup& setup, const std::vector<std::shared_ptr<const Target>>& surfaces);
std::vector<ValvePair> valve_pairs(const Setup& setup);

/// The least distance of two valves over every crank angle, both at the greatest lifts that `motion` allows, and what
/// no distance falls below at any of the lifts that it allows: valves that lean apart come nearer to each other as they
/// open, so that the two are the same but for an interval. `proven` has the lesser.
Least pair_least(const Setup& setup, const Motion& motion, const ValvePair& pair);

/// Is that distance nowhere less than `value`?
bool pair_keeps_above(const Setup& setup, const Motion& motion, const ValvePair& pair, double value);

PairResult pair_result(const Setup& setup, const ValvePair& pair);

}  // namespace eyebrow::study
