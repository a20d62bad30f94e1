// How the parts move against each other over a stretch of crank angle: bounds that hold at every angle in it, and for
// every lift that Motion allows there (Motion::lifts), from the bounds that Motion states. (Between two angles `width`
// apart a function with |f''| <= bend keeps within bend width^2 / 8 of the straight line; upward steps of f' let it lie
// below that by step width / 4 more.)
#pragma once
#include "study/setup.hpp"

namespace eyebrow::study {

/// Greatest of |lift - straight line| between two angles `width` apart within a stretch.
double lift_sag(const Motion& motion, int valve, double from, double to, double width);

/// One valve and the piston. Along the valve's axis they move by lift + cos(tilt) height ("along"), square to it by
/// sin(tilt) height.
struct PistonStretch {
  Pose middle;          ///< height in the middle of its range; lift so that "along" is the greatest in the stretch
  double sideways = 0;  ///< greatest movement from there square to the axis
  double up = 0;        ///< greatest movement from there along the axis, away from the piston
  double approach = 0;  ///< greatest of height + cos(tilt) lift: how near the two are along the bore
  double freedom = 0;   ///< of `up`, what is not the stretch's: the lifts that one crank angle may have
};
PistonStretch piston_stretch(const Setup& setup, int valve, double from, double to);

/// The relative place (mm) of two rigid parts at a crank angle, and how far it can be from the straight line between
/// its places at two angles.
struct Route {
  double chord = 0;  ///< straight, end to end
  double sag = 0;    ///< greatest distance from that line
};
Route piston_route(const Setup& setup, int valve, double from, double to);
/// First against second, both at the greatest lifts that they may have.
Route pair_route(const Setup& setup, int first, int second, double from, double to);
/// A valve's lifts, none outside.
struct Range {
  double low = 0, high = 0;
};
Range lift_range(const Setup& setup, int valve, double from, double to);

}  // namespace eyebrow::study
