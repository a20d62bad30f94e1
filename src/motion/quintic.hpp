// One piece of a lift curve: the quintic with given value, velocity and acceleration at both ends.
#pragma once
#include <array>

#include "eyebrow/motion.hpp"

namespace eyebrow::motion {

/// Taylor coefficients about the first knot.
std::array<double, 6> taylor(const LiftKnot& from, const LiftKnot& to);

/// Control values in Bernstein's basis: the polynomial lies within their least and greatest, and begins and ends on the
/// first and last.
std::array<double, 5> velocity_controls(const LiftKnot& from, const LiftKnot& to);
std::array<double, 4> acceleration_controls(const LiftKnot& from, const LiftKnot& to);

/// An upper bound of |velocity| between the knots, tight to about 0.1 %.
double velocity_bound(const LiftKnot& from, const LiftKnot& to);

/// Likewise of |acceleration|.
double acceleration_bound(const LiftKnot& from, const LiftKnot& to);

/// Shown, not sampled: sign * velocity >= floor all the way from knot to knot. False when it cannot be shown.
bool velocity_at_least(const LiftKnot& from, const LiftKnot& to, double sign, double floor);

/// Shown likewise: acceleration <= ceiling all the way.
bool acceleration_at_most(const LiftKnot& from, const LiftKnot& to, double ceiling);

}  // namespace eyebrow::motion
