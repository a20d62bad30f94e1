// The least gap over every crank angle and every lift that a valve may have there: at any cam position, with any lobe
// that has the same card, with what running takes.
#pragma once
#include "study/setup.hpp"

namespace eyebrow::study {

struct FreeLeast {
  bool found = false;  ///< false: there is no such gap at any angle and lift
  double value = NAN;
  double proven = NAN;  ///< no gap within half a micrometre of any allowed pose falls below this
  double crank = 0, lift = 0;
};

/// Over all of setup.motion's `lifts`, with the rim anywhere up to `sideways` off its place square to the valve's axis
/// (mm).
///
/// Travel is least at the greatest lift. Face and radial gap of a valve that is drawn out along its axis over all its
/// lifts are the least of them, so that lifts need no search. Closest: branch and bound over crank angle and lift, by
/// its Lipschitz bound and its semiconcavity.
FreeLeast free_least(const Setup& setup, int valve, GapKind kind, double sideways = 0);

/// Is that gap nowhere less than `value`? Where there is none it is not.
bool free_keeps_above(const Setup& setup, int valve, GapKind kind, double value, double sideways = 0);

}  // namespace eyebrow::study
