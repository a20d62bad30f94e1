// How far cams may be out of time before parts touch.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/untimed.hpp"
#include "study/pairs.hpp"

namespace eyebrow::study {

/// Valves and pairs that a cam out of time moves against piston and each other.
struct MovedByCams {
  std::vector<std::string> cams;        ///< that are out by the same; their stops go with them
  std::vector<int> valves;              ///< on these cams, that can come to the piston at all
  std::vector<const ValvePair*> pairs;  ///< of one valve on these cams and one that is not
};

/// `way`: 1 = early, -1 = late. Clear is proven for the whole way, not just for where it ends: the cam may be anywhere
/// from where it is set to `by` (a freedom like a phaser's). So what is clear further out, past a stretch of contact,
/// does not count. Valves against each other at the greatest lifts that this allows, as everywhere.
/// `teeth`: of the cams' wheels, 0 = not stated; whole teeth are tried as such, not as the tenths of a degree.
OutOfTime out_of_time(const Setup& setup, const MovedByCams& moved, int way, int teeth);

}  // namespace eyebrow::study
