// The least of each gap within the tolerances, by engines that are computed exactly.
#pragma once
#include "study/stack_fit.hpp"

namespace eyebrow::study {

struct StackLowest {
  StackPoint point;
  double value = NAN;  ///< exact, mm; NaN = there is no such gap
  double bound = NAN;  ///< as StackWorst::bound
};

/// One a gap. From where the surface is lowest (and every other engine known) no step along one driver, of any of many
/// sizes, betters it; only steps are computed that could, by what the surface was seen to be off. Whatever `engines`
/// knows is no lower. `from`, `to`: as StackEngines::find.
std::vector<StackLowest> lowest_in_stack(StackEngines& engines, const StackFit& fit, std::uint64_t seed, double from,
                                         double to);

}  // namespace eyebrow::study
