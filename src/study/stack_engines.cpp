#include "study/stack_engines.hpp"

#include <set>

#include "study/course.hpp"

namespace eyebrow::study {

void StackEngines::find(const std::vector<StackPoint>& points, double from, double to) {
  std::set<StackPoint> distinct;
  for (const StackPoint& point : points)
    if (!known_.count(point)) distinct.insert(point);
  if (distinct.empty()) return;
  const std::vector<StackPoint> fresh(distinct.begin(), distinct.end());
  // One map serves all: its input numbers the engines.
  Varied number;
  number.key = "engine";
  for (std::size_t i = 0; i < fresh.size(); ++i) number.values.push_back(static_cast<double>(i));
  CheckOptions options = options_;
  if (options_.progress) options.progress = [&](double share) { options_.progress(from + share * (to - from)); };
  MapResult map = mapper_.map(
      {number},
      [&](const std::vector<double>& values) {
        return engine_by_(drivers_.by(fresh[static_cast<std::size_t>(values.front())]));
      },
      options);
  for (std::size_t i = 0; i < fresh.size(); ++i) known_.emplace(fresh[i], std::move(map.cells[i]));
}

StackEngines::Change StackEngines::changes(std::size_t driver) const {
  const Engine& base = mapper_.base();
  for (const double place : {0.5, -0.5}) try {
      StackPoint point(drivers_.size(), 0);
      point[driver] = place;
      const Engine moved = engine_by_(drivers_.by(point));
      if (!same_crown(moved, base) || !same_valves(moved, base) || !stand_alike(moved, base))
        return Change::crown_or_valves;
      return same_parts(moved, base) ? Change::motion : Change::block_or_gasket;
    } catch (const InputError&) {
      continue;  // told by find()
    }
  return Change::crown_or_valves;
}

void StackEngines::poll() const {
  if (options_.stop && options_.stop()) throw Interrupted("stopped before the stack was complete");
}

double StackEngines::gap(const StackPoint& point, std::size_t gap) const {
  const MapCell& cell = at(point);
  return cell.possible() ? cell.found[gap] : NAN;
}

}  // namespace eyebrow::study
