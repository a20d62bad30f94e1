#include "study/stack_surface.hpp"

#include <algorithm>
#include <cmath>

#include "study/tolerances.hpp"

namespace eyebrow::study {

void StackSurface::set_side(std::size_t driver, bool up, double reach, double half, double end) {
  const double by_half = half - nominal_, by_end = end - nominal_;
  Side& side = sides_[driver];
  side.slope[up] = (4 * by_half - by_end) / reach;
  side.bend[up] = (2 * by_end - 4 * by_half) / (reach * reach);
  side.matters = side.matters || std::fmax(std::fabs(by_half), std::fabs(by_end)) > kStackMatters;
}

void StackSurface::set_pair(std::size_t one, double at_one, std::size_t other, double at_other, double gap) {
  auto pair = std::ranges::find_if(pairs_, [&](const Pair& of) { return of.one == one && of.other == other; });
  if (pair == pairs_.end()) pair = pairs_.insert(pairs_.end(), Pair{one, other, {0, 0, 0, 0}});
  const double beyond = gap - nominal_ - alone(one, at_one) - alone(other, at_other);
  pair->by[(at_one > 0) + 2 * (at_other > 0)] = beyond / std::fabs(at_one * at_other);
}

double StackSurface::at(const double* point) const {
  if (!branches_.empty()) return branches_.at(point);
  double sum = nominal_;
  for (std::size_t driver = 0; driver < sides_.size(); ++driver)
    if (sides_[driver].matters) sum += alone(driver, point[driver]);
  for (const Pair& pair : pairs_) {
    const double one = point[pair.one], other = point[pair.other];
    sum += pair.by[(one > 0) + 2 * (other > 0)] * std::fabs(one * other);
  }
  return sum;
}

double StackSurface::alone(std::size_t driver, double place) const {
  const Side& side = sides_[driver];
  const double x = std::fabs(place);
  return x * (side.slope[place > 0] + x * side.bend[place > 0]);
}

}  // namespace eyebrow::study
