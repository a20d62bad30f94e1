// Every gap of an engine as it stands at one crank angle.
#pragma once
#include <string>
#include <vector>

#include "study/pairs.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

struct GapsNow {
  std::vector<PoseGaps> piston;  ///< of each valve, as a check asks for them; points in the piston frame
  /// Of a valve and another, or the bore (`second` is -1). Points in the block frame.
  struct Other {
    int first = 0, second = -1;
    Gap gap;
    std::string face;  ///< of the second part
  };
  std::vector<Other> pairs, bore;
};

/// By each lobe's middle curve. `pairs`: none = they are not asked for.
GapsNow gaps_now(const Setup& setup, const std::vector<ValvePair>& pairs, double crank);

}  // namespace eyebrow::study
