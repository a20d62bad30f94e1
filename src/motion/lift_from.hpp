// The three descriptions of a lobe, each to its curve. Faults are added to `faults` (with the lobe's key in front);
// null when there are any.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"

namespace eyebrow::motion {

std::optional<LobeCurves> lift_from_durations(const Lobe& lobe, std::vector<Fault>& faults);
std::optional<LiftCurve> lift_from_table(const Lobe& lobe, std::vector<Fault>& faults);
std::optional<LiftCurve> lift_from_law(const Lobe& lobe, std::vector<Fault>& faults);

/// Adds "lobe.<name>: <what>".
void add_fault(std::vector<Fault>& faults, const Lobe& lobe, const std::string& what);

/// Positive and finite greatest lift, else a fault.
void check_greatest_lift(const Lobe& lobe, std::vector<Fault>& faults);

}  // namespace eyebrow::motion
