#include "eyebrow/effects.hpp"

#include <algorithm>
#include <cmath>

namespace eyebrow {

std::vector<Effect> effects(const Mapper& mapper, const std::vector<InputMove>& moves, const EngineMoved& moved,
                            const CheckOptions& options) {
  // One map serves all: its input numbers the engines, the first of which is the engine as it is.
  Varied number;
  number.key = "engine";
  for (std::size_t i = 0; i <= 2 * moves.size(); ++i) number.values.push_back(static_cast<double>(i));
  const MapResult map = mapper.map(
      {number},
      [&](const std::vector<double>& values) {
        const auto i = static_cast<std::size_t>(values.front());
        if (i == 0) return mapper.base();
        const InputMove& move = moves[(i - 1) / 2];
        return moved(move.key, i % 2 == 1 ? move.by : -move.by);
      },
      options);

  const MapCell& base = map.at(0);
  const auto change = [&](std::size_t cell, std::size_t gap) {
    const MapCell& there = map.at(cell);
    return there.possible() && base.possible() ? there.found[gap] - base.found[gap] : NAN;
  };
  std::vector<Effect> found;
  for (std::size_t i = 0; i < moves.size(); ++i) {
    Effect& effect = found.emplace_back(Effect{moves[i].key, moves[i].by, {}, {}});
    for (std::size_t gap = 0; gap < map.gaps.size(); ++gap) {
      effect.more.push_back(change(2 * i + 1, gap));
      effect.less.push_back(change(2 * i + 2, gap));
    }
  }
  return found;
}

double slope(const Effect& effect, std::size_t gap) {
  const double more = effect.more[gap], less = effect.less[gap];
  if (std::isnan(more)) return -less / effect.by;
  if (std::isnan(less)) return more / effect.by;
  return (more - less) / (2 * effect.by);
}

std::vector<ReadingError> reading_errors(const std::vector<Effect>& effects, std::size_t gaps) {
  std::vector<ReadingError> errors(gaps);
  for (std::size_t gap = 0; gap < gaps; ++gap) {
    double squares = 0;
    for (const Effect& effect : effects) {
      // Of both ways the worse; fmax takes the other one where one is NaN.
      const double by = std::fmax(std::fabs(effect.more[gap]), std::fabs(effect.less[gap]));
      if (!(by > 0)) continue;
      squares += by * by;
      if (by > errors[gap].most_by) {
        errors[gap].most_by = by;
        errors[gap].most = effect.key;
      }
    }
    errors[gap].plus_minus = std::sqrt(squares);
  }
  return errors;
}

}  // namespace eyebrow
