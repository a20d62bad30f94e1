// Engines of a stack that are computed exactly, each once.
#pragma once
#include <map>
#include <vector>

#include "study/stack_draw.hpp"

namespace eyebrow::study {

class StackEngines {
 public:
  StackEngines(const Mapper& mapper, const StackDrivers& drivers, const EngineBy& engine_by,
               const CheckOptions& options)
      : mapper_(mapper), drivers_(drivers), engine_by_(engine_by), options_(options) {}

  /// Computes those that are not known yet. `from`, `to`: how far all of the work is before and after.
  void find(const std::vector<StackPoint>& points, double from, double to);
  /// Only after find().
  const MapCell& at(const StackPoint& point) const { return known_.at(point); }
  /// Of a gap, NaN where there is no such engine or gap.
  double gap(const StackPoint& point, std::size_t gap) const;
  /// Does the driver change solids, or where valves stand? Else it only changes how parts move.
  bool shapes(std::size_t driver) const { return changes(driver) != Change::motion; }
  /// Does it leave crown, valves and their places as they are, so that a map's fields serve it?
  bool in_fields(std::size_t driver) const { return changes(driver) != Change::crown_or_valves; }
  const std::map<StackPoint, MapCell>& all() const { return known_; }
  /// Throws Interrupted when the caller wants to stop.
  void poll() const;

 private:
  enum class Change { motion, block_or_gasket, crown_or_valves };
  Change changes(std::size_t driver) const;

  const Mapper& mapper_;
  const StackDrivers& drivers_;
  const EngineBy& engine_by_;
  const CheckOptions& options_;
  std::map<StackPoint, MapCell> known_;
};

}  // namespace eyebrow::study
