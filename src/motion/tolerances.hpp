// Every tolerance and choice of the motion module, with why that number.
#pragma once
#include "eyebrow/vec.hpp"

namespace eyebrow::motion {

/// Crank radians.
inline constexpr double kCycle = 4 * kPi;

/// Speed bounds are raised by this part, so that rounding in the evaluation cannot pass them (it is near 1e-14).
inline constexpr double kBoundSlack = 1e-9;

/// Halvings of a piece when its velocity is bounded from control values: the excess of the bound falls four times with
/// each, and is some 1e-3 of the bound here.
inline constexpr int kBoundHalvings = 4;

/// Halvings before a piece that cannot be shown to rise (or fall) all the way is taken not to.
inline constexpr int kProofHalvings = 8;

/// A piece counts as rising when its velocity is above minus this part of the curve's mean speed: rounding, no more.
inline constexpr double kFlat = 1e-12;

/// The ramp below the lowest checking lift is taken no longer than this, crank radians. Ramps of the trade end well
/// within it; the extrapolation is longer only when it starts from lifts high on the flank, where it knows nothing.
inline constexpr double kLongestRamp = 60 * kDegree;

/// Where a lobe's flanks are compared to find its centre: 0.050 in below the peak, the trade's habit.
inline constexpr double kFlankBelowPeak = 0.050 * kInch;

/// A reading may go back by this much (mm) on a flank and still be reading noise: a little under 0.001 in, one
/// division of the usual indicator. More is a second maximum, and is refused.
inline constexpr double kReadingNoise = 0.020;

/// Pieces of a smoothed table, crank radians: readings every cam degree are twice as far apart, and a quintic follows
/// any lobe over this length to far below a reading error.
inline constexpr double kSmoothPiece = 1 * kDegree;

/// Weight of the squared jerk against the squared residuals, powers of ten, in pieces: from following each reading to
/// a parabola over some hundred pieces. The right one is found to the range over two to the halvings, a tenth.
inline constexpr double kLeastSmoothness = -4, kMostSmoothness = 9;
inline constexpr int kSmoothnessHalvings = 7;

/// Of the scatter of readings this part is left when a curve with some tens of degrees of freedom has followed them.
inline constexpr double kScatterShare = 0.75;

/// A curve that wiggles is tried again with this much more smoothness (powers of ten), up to so much in all.
inline constexpr double kSmoothnessStep = 0.5, kMostExtraSmoothness = 1.5;

/// Times that readings too far off get more weight before less smoothness is tried.
inline constexpr int kMostWeighings = 20;

/// The residuals are brought within this part of the reading error, so that what taking out of a dip moves has room.
inline constexpr double kWithinError = 0.98;

/// A change of sign of the acceleration counts when both sides pass this part of the greatest.
inline constexpr double kWiggle = 0.08;

/// Changes on a flank that a lobe has at most: ramp's end, flank, and one more for what a ramp's blend adds.
inline constexpr int kMostWiggles = 3;

/// Reading errors tried where the stated one admits no curve: this much more is not worth telling, as the base circle's
/// level may be off by as much; then in steps, up to kReadingNoise.
inline constexpr double kLevelShare = 1.05, kErrorStep = 1.25;

/// From so many on it is the readings' noise, greater than the reading error, that is followed.
inline constexpr int kNoiseWiggles = 8;

/// Run-out and wander of the base circle up to this (mm) are allowed for: a few hundredths are usual, a tenth is a bent
/// cam or an indicator that slipped.
inline constexpr double kMostRunOut = 0.10;

/// A curve through readings may lie off them by this times what they scatter by, in the mean.
inline constexpr double kScatterOver = 1.5;

/// The flat of the base circle is looked for outside of this part of the greatest lift, in the half away from the lobe.
inline constexpr double kFootShare = 0.05;

/// Angles (crank radians) and lifts (mm) that count as the same: rounding of decimals, no more.
inline constexpr double kSameAngle = 1e-6 * kDegree;
inline constexpr double kSameLift = 1e-9;

/// A table may begin and end up to this lift (mm) and still tell its ramps: the smallest usual checking lift is 0.1 mm.
inline constexpr double kMostFirstLift = 0.05;

/// The line that finds a ramp's foot goes through the readings up to this much above the base circle's (mm). It is
/// followed beyond zero by so many times what it falls the base circle's scatter in, as a foot too near cuts the ramp
/// and one too far costs nothing; no further than this beyond the lowest of the readings (crank radians).
inline constexpr double kFootBand = 0.05;
inline constexpr double kFootMargin = 2;

/// It is followed at least this far (crank radians): the curve needs room to reach a reading beside its foot.
inline constexpr double kLeastFoot = 6 * kDegree;
inline constexpr double kLongestFoot = 30 * kDegree;

/// Widest step between readings off the base circle, crank radians: readings every 5 cam degrees take half of it.
inline constexpr double kWidestStep = 20 * kDegree;

/// Pieces a flank that stand for a cam law: a multiple of 8, as the modified laws have their joints at eighths. Six
/// exact derivatives a piece leave an error below 1e-12 of the lift.
inline constexpr int kLawPieces = 128;

/// Known flanks, and how many of them are used with a card of two points or more: enough that least and greatest no
/// longer grow by more than a tenth when doubled; a card takes a millisecond.
inline constexpr int kKnownFlanks = 960, kNearestFlanks = 300;

/// Part of the greatest lift at which lengths of flanks are compared, near 0.050 in on a lobe of 0.4.
inline constexpr double kNormLift = 0.125;

/// Greatest accelerations of lobes, over lift / (half duration above kNormLift)^2. The nose of the sharpest handbook
/// law (4-5-6-7, published peak factor 7.51 over the rise) has 4.3; flanks are sharper where the nose is held flat for
/// the spring's sake, to some three times that.
inline constexpr double kSharpestNose = 5, kSharpestFlank = 14;

/// The band of lifts is told out to this many times the reference duration, at this many angles.
inline constexpr double kBandReach = 1.6;
inline constexpr int kBandAngles = 80;

/// Between points of a card no further apart than this, crank radians, the least-jerk curve is as near to made lobes as
/// the middle lobe.
inline constexpr double kWideGap = 40 * kDegree;

/// Beside each of a card's points, where least and greatest lift meet, they are told once more this near, crank
/// radians.
inline constexpr double kBesideCard = 0.2 * kDegree;

/// Least and greatest lift of the lobes that fit are moved out by this much: there are lobes beside the known ones, and
/// from the third point on the update, which is linear, draws them too near to each other. Set so that 99 of 100 made
/// lobes of other families lie within all the way (band_test; over eight seeds of 200 lobes each). With 1.2 for two
/// points and 1.75 for more, lobes of three arcs, whose acceleration jumps from nose to flank, lay up to 0.001 of the
/// lift outside on the side of the nose: with four and five durations too, as the band of two points cuts these.
inline constexpr double kBandMargins[] = {1.15, 1.3, 1.9};  // of one point, two, more

/// A point below this part of the lift tells more of the ramp than of the flank, which the update takes for the flank's
/// own: with another point above it the margin is that of three.
inline constexpr double kRampShare = 0.1, kRampMargin = 1.9;

/// Below the lowest point ramps of their own begin: there the margin is so much more (card_range_test).
inline constexpr double kTailMargin = 1.5;

/// Fewer lobes than this say nothing about a card.
inline constexpr int kFewestFitting = 20;

/// Steps (crank radians) at which the middle lobe's lifts stand between a card's points, and the part of the greatest
/// lift down to which they do below the lowest checking lift.
inline constexpr double kMiddleStep = 6 * kDegree, kMiddleTail = 0.02;

/// An uneven lobe's nose is placed until its flanks' middle is this near to the lobe centre, crank radians (a degree
/// wheel shows a quarter of a degree; the events themselves are met exactly), in at most so many steps: which known
/// lobes are nearest changes with the nose, so that the last digits never settle.
inline constexpr double kCentred = 1e-3 * kDegree;
inline constexpr int kMostNoseSteps = 12;

/// Relative to 1: spread that is none, and rounding in what passes through a card's points.
inline constexpr double kNoSpread = 1e-12;
/// Part of a cam law's ramp in which its velocity rises from nothing: soft against the rest, which stays constant.
inline constexpr double kRampBlend = 0.25;

/// Where the harmonic law's acceleration jumps from a ramp, it does so within this part of the rise: no lift to speak
/// of.
inline constexpr double kJumpWidth = 1e-6;

/// Pieces of a lift carried through a rocker's table, crank radians. Where two rows meet the acceleration jumps, and is
/// spread over a piece: a hundredth of a micrometre of lift with tables of real rockers, a few tenths with rows half a
/// mm apart that differ by 0.2.
inline constexpr double kRockerPiece = 0.25 * kDegree;

/// Lift (mm) over which the bend of a rocker's ratio is taken: rows lie a thousand times further apart.
inline constexpr double kRatioStep = 1e-5;

}  // namespace eyebrow::motion
