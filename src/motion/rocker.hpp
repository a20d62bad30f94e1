// A rocker whose ratio changes with lift.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/motion.hpp"

namespace eyebrow::motion {

/// The valve's lift: lobe lift times the ratio at that lobe lift, over the lobe's own angle. Between the table's rows
/// the ratio is a cubic that keeps to their rise and fall, outside it is constant (spec/rocker_ratio.hpp). Within 1 um
/// of the product; begins, ends and peaks where the lobe does; as smooth as the lobe, as the few jumps of acceleration
/// where two rows meet are spread over a quarter of a degree. One maximum, given a table by which the valve's lift
/// rises with the lobe's (the engine file's reader refuses others). Throws Error unless the table has two rows or more
/// in rising order of lift.
LiftCurve at_valve(const LiftCurve& lobe, const std::vector<RatioAt>& table);

}  // namespace eyebrow::motion
