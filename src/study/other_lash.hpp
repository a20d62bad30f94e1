// The lash that is not counted.
#pragma once
#include "study/setup.hpp"

namespace eyebrow::study {

/// Least travel over every crank angle, cam position and lobe with the same card at running lash where the engine is
/// checked at zero lash, at zero lash where it is checked at running lash. NaN without lash, or where there is none.
double travel_at_other_lash(const Setup& setup, int valve);

}  // namespace eyebrow::study
