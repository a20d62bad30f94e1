// How near each place of the crown comes to a valve: what the crown is coloured by.
#pragma once
#include <functional>
#include <memory>
#include <vector>

#include "scene/scene.hpp"

namespace eyebrow::scene {

/// Distances at the points of the colouring mesh of the crown (finer than Crown's), signed, mm.
struct NearestGaps {
  std::vector<float> distance;
};

/// The least over the whole cycle, sampled each half degree: some seconds of work. May run beside a Scene on a thread
/// of its own. `progress` is called with 0 ... 1; `stop` = give up: the result is then null.
std::shared_ptr<const NearestGaps> nearest_over_cycle(const Shown& shown,
                                                      const std::function<void(double)>& progress = {},
                                                      const std::function<bool()>& stop = {});

}  // namespace eyebrow::scene
