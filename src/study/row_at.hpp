// One row of what is asked, of one engine after another.
#pragma once
#include <cstddef>
#include <utility>

#include "study/judge.hpp"

namespace eyebrow::study {

/// Which row of map_gaps is meant.
struct RowAt {
  enum class Of { piston, pair, bore, head } of = Of::piston;
  std::size_t number = 0;  ///< of the valve, or of the pair in the order of valve_pairs
  std::size_t kind = 0;    ///< of a gap to the piston: into kGapKinds
  bool running = false;

  RowAt(const Engine& engine, std::size_t row);
};

/// The two valves of a pair, the first before the second.
std::pair<int, int> pair_at(const Engine& engine, std::size_t pair);

/// That row as a check of the engine judges it; nothing else is looked for. `row`: into map_gaps.
AskedRow judged_row(const Setup& setup, const std::vector<ValvePair>& pairs, std::size_t row);

}  // namespace eyebrow::study
