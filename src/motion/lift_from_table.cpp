#include "motion/lift_from.hpp"
#include "motion/table_fit.hpp"

namespace eyebrow::motion {

std::optional<LiftCurve> lift_from_table(const Lobe& lobe, std::vector<Fault>& faults) {
  std::optional<TableFit> fit = fit_table(lobe, faults);
  if (!fit) return std::nullopt;
  if (!lobe.table->about_centre) return std::move(fit->curve);
  std::vector<LiftKnot> knots = fit->curve.knots();
  for (LiftKnot& knot : knots) knot.angle -= fit->centre;
  return LiftCurve(std::move(knots));
}

}  // namespace eyebrow::motion
