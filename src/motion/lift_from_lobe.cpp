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

LiftCurve lift_curve(const Lobe& lobe) {
  std::vector<Fault> faults;
  std::optional<LiftCurve> curve;
  const int sources = !lobe.durations.empty() + lobe.table.has_value() + lobe.law.has_value();
  if (sources != 1) {
    motion::add_fault(faults, lobe,
                      fmt::format("has {} of durations, lift table and cam law; it needs exactly one", sources));
  } else if (lobe.table) {
    curve = motion::lift_from_table(lobe, faults);
  } else if (lobe.law) {
    curve = motion::lift_from_law(lobe, faults);
  } else {
    curve = motion::lift_from_durations(lobe, faults);
  }
  if (!curve) throw InputError(std::move(faults));
  return *std::move(curve);
}

}  // namespace eyebrow
