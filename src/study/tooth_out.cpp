#include "study/tooth_out.hpp"

#include "eyebrow/timing.hpp"
#include "study/free_least.hpp"
#include "study/positions.hpp"

namespace eyebrow::study {

std::optional<ToothOut> tooth_out(const Setup& setup, int valve) {
  const Cam& cam = cam_of(setup.engine, valve);
  if (cam.teeth == 0) return std::nullopt;
  const double tooth = one_tooth(cam.teeth);
  const auto least = [&](double by) {
    // The stops go with the pulley.
    const Engine other = cam_moved(setup.engine, cam.name, by);
    Setup free(setup, other);
    free.motion = free.motion.with(judged_lifts(other));
    return free_least(free, valve, GapKind::travel).value;
  };
  return ToothOut{tooth, least(tooth), least(-tooth)};
}

}  // namespace eyebrow::study
