#include <fmt/format.h>

#include "motion/cam_law.hpp"
#include "motion/lift_from.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {

std::optional<LiftCurve> lift_from_law(const Lobe& lobe, std::vector<Fault>& faults) {
  check_greatest_lift(lobe, faults);
  if (!(lobe.law_duration > 0 && lobe.law_duration < 4 * kPi)) {
    add_fault(faults, lobe, fmt::format("duration {} must lie between 0 and 720 deg", angle_text(lobe.law_duration)));
  }
  if (!faults.empty()) return std::nullopt;

  const double half = lobe.law_duration / 2;
  std::vector<LiftKnot> rise;
  for (int i = 0; i <= kLawPieces; ++i) {
    const double u = static_cast<double>(i) / kLawPieces;
    const LawPoint at = cam_law(*lobe.law, u);
    rise.push_back({-half * (1 - u), lobe.lift * at.value, lobe.lift * at.velocity / half,
                    lobe.lift * at.acceleration / (half * half)});
  }
  std::vector<LiftKnot> knots = rise;
  for (std::size_t i = rise.size() - 1; i-- > 0;) {
    knots.push_back({-rise[i].angle, rise[i].lift, -rise[i].velocity, rise[i].acceleration});
  }
  return LiftCurve(std::move(knots));
}

}  // namespace eyebrow::motion
