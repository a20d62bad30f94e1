#include <fmt/format.h>

#include <cmath>

#include "motion/lift_from.hpp"
#include "motion/words.hpp"

namespace eyebrow {
namespace motion {

void add_fault(std::vector<Fault>& faults, const Lobe& lobe, const std::string& what) {
  faults.push_back({"", 0, 0, fmt::format("lobe.{}: {}", lobe.name, what), "lobe." + lobe.name});
}

void check_greatest_lift(const Lobe& lobe, std::vector<Fault>& faults) {
  if (!(lobe.lift > 0 && std::isfinite(lobe.lift))) {
    add_fault(faults, lobe, fmt::format("the greatest lift is {}; it must be above zero", length_text(lobe.lift)));
  }
}

}  // namespace motion

LobeCurves lobe_curves(const Lobe& lobe) {
  std::vector<Fault> faults;
  std::optional<LobeCurves> curves;
  const auto known = [&](std::optional<LiftCurve> curve) {
    if (curve) curves = LobeCurves{*std::move(curve), {}};
  };
  const int sources = !lobe.durations.empty() + lobe.table.has_value() + lobe.law.has_value();
  if (sources != 1) {
    motion::add_fault(faults, lobe,
                      fmt::format("has {} of durations, lift table and cam law; it needs exactly one", sources));
  } else if (lobe.table) {
    known(motion::lift_from_table(lobe, faults));
  } else if (lobe.law) {
    known(motion::lift_from_law(lobe, faults));
  } else {
    curves = motion::lift_from_durations(lobe, faults);
  }
  if (!curves) throw InputError(std::move(faults));
  return *std::move(curves);
}

LiftCurve lift_curve(const Lobe& lobe) {
  return lobe_curves(lobe).middle;
}

}  // namespace eyebrow
