// Least gaps of the running engine: the bench's, less what each allowance takes.
#pragma once
#include <map>
#include <vector>

#include "eyebrow/check.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// Of one valve and kind, over every crank angle, cam position and lobe with the same card, with all allowances that
/// are on at once: never more than what is `judged` at rest. Beside it what each alone takes from that.
///
/// Piston and gasket: the parts stand nearer. Early, late and lift: more lifts are allowed. Sideways: the rim is larger
/// by it. Rock: the crown leans about its pin at its highest place, one way and the other, and stands off as far as it
/// may both ways; as it goes down its lean carries it aside, which counts as play of the rim (kRockAngle).
RunningLeast running_least(const Setup& setup, const std::vector<Allowance>& allowances, int valve, GapKind kind,
                           const Minimum& bench, double judged);

/// Its value alone.
double running_value(const Setup& setup, const std::vector<Allowance>& allowances, int valve, GapKind kind,
                     double judged);

/// Is it nowhere below `value`, the bench's not counted?
bool running_keeps(const Setup& setup, const std::vector<Allowance>& allowances, int valve, GapKind kind, double value);

/// The lifts that the allowances which are on, the cams' stops and the lobes' cards leave to each valve.
Freedom running_freedom(const Engine& engine, const std::vector<Allowance>& allowances);

}  // namespace eyebrow::study
