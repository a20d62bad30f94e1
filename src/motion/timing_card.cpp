#include "eyebrow/timing.hpp"

namespace eyebrow {

TimingCard timing_card(Role role, double centre, double duration, double advance) {
  const double at_tdc = duration / 2 - centre, at_bdc = duration / 2 + centre - kPi;
  return role == Role::intake ? TimingCard{at_tdc + advance, at_bdc - advance}
                              : TimingCard{at_bdc + advance, at_tdc - advance};
}

}  // namespace eyebrow
