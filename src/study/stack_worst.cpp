#include "study/stack_worst.hpp"

#include <algorithm>
#include <cmath>

#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

constexpr double kSteps[] = {2, 1, 0.5, 0.25, 0.125, 0.0625};

class Lowest {
 public:
  Lowest(StackEngines& engines, const StackFit& fit, std::uint64_t seed) : engines_(engines), fit_(fit), seed_(seed) {}

  std::vector<StackLowest> run(double from, double to) {
    found_.resize(fit_.gaps.size());
    std::vector<Start> starts;
    for (std::size_t gap = 0; gap < found_.size(); ++gap)
      if (fit_.gaps[gap].kind == StackFitted::Kind::surface) {
        const StackSurface& surface = fit_.gaps[gap].surface;
        Start& start = starts.emplace_back(Start{lowest_of_surface(surface), {}});
        for (std::size_t driver = 0; driver < start.point.size(); ++driver)
          start.asked.push_back(surface.matters(driver));
        found_[gap].bound = surface.at(start.point) - fit_.gaps[gap].room();
      }
    double done = 0.4;
    engines_.find(together(starts), from, from + done * (to - from));
    for (std::size_t gap = 0; gap < found_.size(); ++gap) take_known(gap);
    std::vector<bool> settled(found_.size(), false);
    for (int round = 0; round < kStackRounds; ++round) {
      std::vector<StackPoint> points;
      for (std::size_t gap = 0; gap < found_.size(); ++gap)
        if (!settled[gap]) add_neighbours(gap, points);
      if (points.empty()) break;
      const double next = done + 0.3 * (1 - done);
      engines_.find(points, from + done * (to - from), from + next * (to - from));
      done = next;
      for (std::size_t gap = 0; gap < found_.size(); ++gap) {
        const double before = found_[gap].value;
        take_known(gap);
        settled[gap] = !(found_[gap].value < before - kStackBetter);
      }
    }
    for (StackLowest& each : found_) each.bound = std::fmin(each.bound, each.value);
    return std::move(found_);
  }

 private:
  /// From many starts, each driver in turn to the best of nine places until none betters it.
  StackPoint lowest_of_surface(const StackSurface& surface) const {
    const std::size_t drivers = fit_.reach.up.size();
    StackPoint best(drivers, 0);
    double least = surface.at(best);
    for (std::size_t start = 0; start <= kStackStarts; ++start) {
      StackPoint point = start == 0 ? StackPoint(drivers, 0) : anywhere(drivers, seed_, StackStream::starts, start);
      double value = surface.at(fit_.reach.within(point));
      for (bool better = true; better;) {
        better = false;
        for (std::size_t driver = 0; driver < drivers; ++driver) {
          if (!surface.matters(driver)) {
            point[driver] = 0;
            continue;
          }
          for (int i = -8; i <= 8; ++i) {
            StackPoint moved = point;
            moved[driver] = i / 8.0;
            const double there = surface.at(fit_.reach.within(moved));
            if (there < value - 1e-9) {
              value = there;
              point = moved;
              better = true;
            }
          }
        }
      }
      if (value < least - 1e-9) {
        least = value;
        best = fit_.reach.within(point);
      }
    }
    return best;
  }

  struct Start {
    StackPoint point;
    std::vector<bool> asked;  ///< one a driver: does its place matter?
  };

  /// Where no two gaps ask for different places of one driver, one engine serves both.
  static std::vector<StackPoint> together(const std::vector<Start>& starts) {
    std::vector<Start> joined;
    for (const Start& start : starts) {
      const auto fits = [&](const Start& other) {
        for (std::size_t driver = 0; driver < start.point.size(); ++driver)
          if (start.asked[driver] && other.asked[driver] && start.point[driver] != other.point[driver]) return false;
        return true;
      };
      const auto with = std::ranges::find_if(joined, fits);
      if (with == joined.end()) {
        joined.push_back(start);
        continue;
      }
      for (std::size_t driver = 0; driver < start.point.size(); ++driver)
        if (start.asked[driver]) {
          with->point[driver] = start.point[driver];
          with->asked[driver] = true;
        }
    }
    std::vector<StackPoint> points;
    for (const Start& start : joined) points.push_back(start.point);
    return points;
  }

  void take_known(std::size_t gap) {
    StackLowest& lowest = found_[gap];
    for (const auto& [point, cell] : engines_.all())
      // What was drawn of a normal tolerance without an end may lie beyond 3 deviations.
      if (cell.possible() && std::ranges::all_of(point, [](double place) { return std::fabs(place) <= 1; }) &&
          (cell.found[gap] < lowest.value || std::isnan(lowest.value))) {
        lowest.value = cell.found[gap];
        lowest.point = point;
      }
  }

  void add_neighbours(std::size_t gap, std::vector<StackPoint>& points) const {
    const StackFitted& of = fit_.gaps[gap];
    const StackLowest& lowest = found_[gap];
    if (of.kind != StackFitted::Kind::surface || std::isnan(lowest.value)) return;
    for (std::size_t driver = 0; driver < lowest.point.size(); ++driver) {
      if (!of.surface.matters(driver)) continue;
      for (const double step : kSteps)
        for (const double way : {-1.0, 1.0}) {
          StackPoint moved = lowest.point;
          moved[driver] = std::clamp(moved[driver] + way * step, -fit_.reach.down[driver], fit_.reach.up[driver]);
          const double length = std::fabs(moved[driver] - lowest.point[driver]);
          if (length == 0) continue;
          // What the surface is off changes little over a short step.
          const double may_be_off = of.room() * std::fmin(1, 2 * length);
          if (of.surface.at(moved) - of.surface.at(lowest.point) < may_be_off - kStackBetter) points.push_back(moved);
        }
    }
  }

  StackEngines& engines_;
  const StackFit& fit_;
  std::uint64_t seed_;
  std::vector<StackLowest> found_;
};

}  // namespace

std::vector<StackLowest> lowest_in_stack(StackEngines& engines, const StackFit& fit, std::uint64_t seed, double from,
                                         double to) {
  return Lowest(engines, fit, seed).run(from, to);
}

}  // namespace eyebrow::study
