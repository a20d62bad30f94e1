#include "scene/nearest_gaps.hpp"

#include <cmath>

#include "scene/crown_distances.hpp"
#include "study/setup.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kStep = 0.5 * kDegree;

}  // namespace

std::shared_ptr<const NearestGaps> nearest_over_cycle(const Shown& shown, const std::function<void(double)>& progress,
                                                      const std::function<bool()>& stop) {
  const study::Setup setup(*shown.engine, *shown.parts);
  const Crown crown = colored_crown(*shown.parts);
  CrownDistances distances(setup, crown);
  auto out = std::make_shared<NearestGaps>();
  out->distance = distances.beyond();
  const int count = static_cast<int>(std::lround(4 * kPi / kStep));
  for (int i = 0; i <= count; ++i) {
    if (stop && stop()) return nullptr;
    if (progress) progress(static_cast<double>(i) / count);
    distances.lower(out->distance, -2 * kPi + i * kStep);
  }
  return out;
}

}  // namespace eyebrow::scene
