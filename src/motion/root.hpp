// Where a function changes sign.
#pragma once
#include <boost/math/tools/toms748_solve.hpp>
#include <cstdint>

namespace eyebrow::motion {

/// Between `from` and `to`, where `f` has opposite signs (or is zero at one); to the last bits of a double.
template <typename F>
double root(F f, double from, double to) {
  const double at_from = f(from), at_to = f(to);
  if (at_from == 0) return from;
  if (at_to == 0) return to;
  std::uintmax_t steps = 200;  // far above what it takes: bisection alone would need 60
  const auto [low, high] = boost::math::tools::toms748_solve(f, from, to, at_from, at_to,
                                                             boost::math::tools::eps_tolerance<double>(), steps);
  return low + (high - low) / 2;
}

}  // namespace eyebrow::motion
