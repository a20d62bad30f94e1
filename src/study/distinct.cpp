#include "study/distinct.hpp"

#include <cmath>
#include <map>

#include "study/tolerances.hpp"

namespace eyebrow::study {

Distinct distinct_poses(const std::vector<Pose>& poses) {
  std::map<std::pair<long long, long long>, std::size_t> seen;
  Distinct distinct;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    const auto [place, added] =
        seen.try_emplace({std::llround(poses[i].height / kSamePlace), std::llround(poses[i].lift / kSamePlace)},
                         distinct.samples.size());
    if (added) distinct.samples.push_back(i);
    distinct.query.push_back(place->second);
  }
  return distinct;
}

}  // namespace eyebrow::study
