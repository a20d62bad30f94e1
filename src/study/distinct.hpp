// Neither valve nor piston turns, so the gaps between them depend on height and lift alone; and a cycle visits most
// such places more than once: closed, on every stroke. Each place is queried once.
#pragma once
#include <vector>

#include "eyebrow/gap.hpp"

namespace eyebrow::study {

struct Distinct {
  std::vector<std::size_t> samples;  ///< numbers of the samples to query, rising
  std::vector<std::size_t> query;    ///< for each sample: which of them stands for it
};

/// Poses within kSamePlace of each other are one; the first sample there stands for the rest.
Distinct distinct_poses(const std::vector<Pose>& poses);

}  // namespace eyebrow::study
