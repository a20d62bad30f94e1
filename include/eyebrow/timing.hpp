// When the valves move: timing cards, teeth of a cam's pulley, and what milling does to an overhead cam.
// Angles in radians, lengths in mm.
#pragma once
#include "eyebrow/engine.hpp"

namespace eyebrow {

/// Opening and closing as a timing card states them. Crank radians.
struct TimingCard {
  double opens = 0;   ///< intake: before overlap TDC; exhaust: before the BDC that ends the power stroke
  double closes = 0;  ///< intake: after the BDC that follows; exhaust: after overlap TDC
};

/// The crank angle that the valve is open: half a turn, and what is before and after it. Closed form.
inline double duration_of(const TimingCard& card) {
  return card.opens + kPi + card.closes;
}

/// The middle between opening and closing, counted as Lobe::centre: after overlap TDC for an intake, before it for an
/// exhaust. The lobe centre of a symmetric lobe. Closed form: 20-60 makes 110 for an intake.
inline double centre_of(Role role, const TimingCard& card) {
  return duration_of(card) / 2 - (role == Role::intake ? card.opens : card.closes);
}

/// How far a wheel turns when its belt, chain or pitch circle moves by `travel`: travel over the pitch radius, wheel
/// radians. Throws Error unless pitch_diameter > 0.
double wheel_turn(double travel, double pitch_diameter);

/// What one tooth out is: a turn of the cam, two of the crank, over the teeth of the cam's own wheel. Crank radians.
/// Throws Error unless teeth > 0.
double one_tooth(int teeth);

/// By how much milling, a deck cut and another gasket make an overhead cam run late. Crank radians, positive = later;
/// 0 without a drive, and for one timed again since.
///
/// The head comes nearer to the crank by a = milled + deck_cut + (gasket when timed - gasket). The crank held still,
/// the belt from a tooth on the crank's wheel to a tooth on the cam's lies on an arc, a straight run and an arc. A
/// wheel that moves by a small step changes the length of that way by the step's part along the run: the arcs take up
/// what the run's turning changes, whatever the two diameters. So the way gets shorter by a cos(run_angle). The pulling
/// belt stays taut, hence the cam turns back by that over its pitch radius, and the crank needs twice as many degrees
/// to bring it where it was. By the pitch: shortening / (pitch * teeth) of a cam turn, for chains and belts alike.
///
/// Approximated: run_angle is taken before the approach, and the run leans over a little more as the head comes down.
/// That makes the result too large, by at most a^2 sin^2(run_angle) / (2 * length of the run) of belt: 1 um for 2 mm at
/// 20 degrees on a 250 mm run. A cam driven by another cam's wheel on the same head follows that one: their run is not
/// shortened. The part of AngleMilled at the bore axis counts; that the head's turning also moves the cam sideways is
/// not known here, so an engine file with both has to say `retimed`.
/// Throws Error when the drive has neither a diameter nor a pitch with the cam's teeth.
double drive_retard(const Engine& engine, const Cam& cam);

}  // namespace eyebrow
