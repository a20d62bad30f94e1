#include <fmt/format.h>

#include <cmath>

#include "motion/cam_law.hpp"
#include "motion/lift_from.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

// A ramp of lift R over the angle d: its velocity rises from nothing to v over the first part b = kRampBlend d as
// v (3 s^2 - 2 s^3), and stays. The blend lifts v b / 2, the rest v (d - b), R in all: v = R / (d - b / 2).
// Over the main rise of angle T the law (which starts and ends without velocity) lies on top of a lift whose velocity
// v (1 - 10 u^3 + 15 u^4 - 6 u^5) starts as the ramp ends and dies out at the peak: it takes v T / 2 of the lift, the
// law the rest. Blend and dying out begin and end without acceleration; the dying out without jerk too, so that at the
// joint the acceleration rises with the softest law.

namespace eyebrow::motion {
namespace {

bool is_length(double value) {
  return value > 0 && std::isfinite(value);
}

void check(const Lobe& lobe, std::vector<Fault>& faults) {
  check_greatest_lift(lobe, faults);
  if (!(lobe.law_duration > 0 && lobe.law_duration < 4 * kPi))
    add_fault(faults, lobe, fmt::format("duration {} must lie between 0 and 720 deg", angle_text(lobe.law_duration)));
  if (lobe.ramp_lift == 0 && lobe.ramp_duration == 0) return;
  if (!is_length(lobe.ramp_lift) || !is_length(lobe.ramp_duration)) {
    add_fault(faults, lobe,
              fmt::format("a ramp of {} over {}: a ramp has both, above zero, or there is none",
                          length_text(lobe.ramp_lift), angle_text(lobe.ramp_duration)));
  } else if (!(lobe.law_duration + 2 * lobe.ramp_duration < 4 * kPi)) {
    add_fault(faults, lobe,
              fmt::format("duration {} and twice the ramp's {} must lie below 720 deg together",
                          angle_text(lobe.law_duration), angle_text(lobe.ramp_duration)));
  }
}

}  // namespace

std::optional<LiftCurve> lift_from_law(const Lobe& lobe, std::vector<Fault>& faults) {
  check(lobe, faults);
  if (!faults.empty()) return std::nullopt;

  const double half = lobe.law_duration / 2, ramp = lobe.ramp_duration, blend = kRampBlend * ramp;
  const double speed = ramp > 0 ? lobe.ramp_lift / (ramp - blend / 2) : 0;
  const double carried = speed * half / 2;  // by the ramp's velocity as it dies out
  const double by_law = lobe.lift - lobe.ramp_lift - carried;
  if (!(by_law > 0)) {
    add_fault(faults, lobe,
              fmt::format("a ramp of {} over {} goes on to {} by its own velocity; that leaves nothing of the greatest "
                          "lift, {}, to the law",
                          length_text(lobe.ramp_lift), angle_text(ramp), length_text(lobe.ramp_lift + carried),
                          length_text(lobe.lift)));
    return std::nullopt;
  }

  std::vector<LiftKnot> rise;
  if (ramp > 0) {
    rise.push_back({-half - ramp, 0, 0, 0});
    rise.push_back({-half - ramp + blend, speed * blend / 2, speed, 0});
  }
  for (int i = 0; i <= kLawPieces; ++i) {
    const double u = static_cast<double>(i) / kLawPieces;
    const LawPoint at = cam_law(*lobe.law, u);
    const LawPoint dying = cam_law(CamLaw::poly345, u);
    const double carries = 2 * (u - u * u * u * u * (2.5 + u * (u - 3)));
    rise.push_back({-half * (1 - u), lobe.ramp_lift + carried * carries + by_law * at.value,
                    speed * (1 - dying.value) + by_law * at.velocity / half,
                    -speed * dying.velocity / half + by_law * at.acceleration / (half * half)});
  }
  if (ramp > 0 && rise[2].acceleration != 0) {  // harmonic: the ramp ends without, just before
    const double before = kJumpWidth * half;
    rise.insert(rise.begin() + 2, {-half - before, lobe.ramp_lift - speed * before, speed, 0});
  }
  std::vector<LiftKnot> knots = rise;
  for (std::size_t i = rise.size() - 1; i-- > 0;) {
    knots.push_back({-rise[i].angle, rise[i].lift, -rise[i].velocity, rise[i].acceleration});
  }
  return LiftCurve(std::move(knots));
}

}  // namespace eyebrow::motion
