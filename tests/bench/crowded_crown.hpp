// An invented engine with as many small pockets and valves on one flat crown as asked for, alike and in a ring.
#pragma once
#include "eyebrow/spec.hpp"

namespace eyebrow::bench {

inline constexpr int kMostPockets = 8;

/// Pockets stand on `kMostPockets` places of a ring; valve i runs in pocket i. valves <= pockets.
EngineFile crowded_crown(int pockets, int valves);

}  // namespace eyebrow::bench
