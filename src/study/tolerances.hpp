// Every number that the study chooses for itself, and why.
#pragma once
#include <cstddef>
#include <cstdint>

#include "eyebrow/vec.hpp"

namespace eyebrow::study {

/// The span of a minimum: crank angles whose gap is within this of the least (design: 2 um).
inline constexpr double kSpanBand = 0.002;
/// Ends of a span are found to this; it is a width to read, not to compute with.
inline constexpr double kSpanAngle = 1e-3 * kDegree;

/// A gap's interval holds over relative displacements this small (Gap::low and high).
inline constexpr double kPoseBall = 0.0005;
/// A least is bounded to this: a fifth of the micrometre that is promised, twice what the kernel's searches leave open.
inline constexpr double kValueTolerance = 2e-4;
/// Rounding of the places that bounds are asked for (1e-13 at 1e3 mm) is covered by this.
inline constexpr double kPlaceRounding = 1e-9;
/// Stretches of the cycle that bounds start from: free to bound where piston and valve are far apart.
inline constexpr double kWidestStretch = 45 * kDegree;
/// Stretches are halved down to this. The parts move less than 0.2 um in it, within the half micrometre that a gap's
/// own interval covers: what is lower there is a jump, or an end of a range where there is a gap.
inline constexpr double kFinestAngle = 1e-4 * kDegree;
/// Stretches halved before a search ends with the bound that it has, which then is wider than it need be. The models
/// take some 50; valves that overlap each other, where distance is no longer semiconcave, some 1000.
inline constexpr int kMostHalvings = 5000;
/// A query whose valve is widened by more than this would tell little: such a stretch is halved first.
inline constexpr double kWidestQuery = 3.0;

/// The crank angle of a least is narrowed from the first step to the second. A tight spot's curvature is some 3e-4 mm a
/// square degree, so that the tolerance leaves it open by a degree.
inline constexpr double kNarrowFrom = 1.0 * kDegree;
inline constexpr double kNarrowTo = 0.002 * kDegree;
/// How far to either side of a least a jump is looked for first (the parts move some micrometres), and at most: the
/// path may run along the jump within half a micrometre of it.
inline constexpr double kBesideAngle = 0.01 * kDegree;
inline constexpr double kJumpReach = 1.0 * kDegree;
/// Jumps are located to this: a tenth of a nanometre of movement.
inline constexpr double kJumpAngle = 1e-7 * kDegree;
/// A span is walked in steps that double up to this before its end is bisected.
inline constexpr double kSpanStep = 2 * kDegree;
/// Equal leasts (closed valves, both TDCs) differ by rounding only: the one nearest overlap TDC is reported.
inline constexpr double kTie = 1e-9;
/// A lobe's peak is looked for in steps of this.
inline constexpr double kPeakGrid = 0.25 * kDegree;
/// Steps through the cycle that no series is printed of: to the end of a lobe, to the deepest entry.
inline constexpr double kCoarseStep = 1 * kDegree;
/// Gaps between valves and to the bore stay nearly level over many degrees, which makes the last tenth of a micrometre
/// dear.
inline constexpr double kCoarseTolerance = 3e-4;
/// How deep such parts overlap is bounded to this part of the depth: an overlap stays level over all of a lift, bounds
/// on it are loose, and what is told is that they touch.
inline constexpr double kOverlapShare = 0.02;

/// Poses this near are one: far above the rounding of two strokes' heights, far below any length that is reported.
inline constexpr double kSamePlace = 1e-9;

/// Samples that one task takes: small enough to stop and to show progress, large against a task's cost.
inline constexpr int kChunk = 8;

/// Beside this, an interval is worth a word (2 um is what half a micrometre each way makes at slope 2).
inline constexpr double kWideInterval = 0.02;

/// Of the lifts that a valve may have at a crank angle, so many are tried for the least gap, then narrowed to this
/// (mm).
inline constexpr int kLiftSamples = 32;
inline constexpr double kLiftFound = 1e-3;

/// Cam positions are looked for in steps of this, then narrowed to this: a thousandth of a degree moves a valve by 0.1
/// um.
inline constexpr double kAdvanceStep = 2 * kDegree;
inline constexpr double kAdvanceFound = 1e-3 * kDegree;

/// A cam's reserve is told in steps of this, as a degree wheel is read; looked for in that many first, then twice as
/// many, up to all of kReserveMost.
inline constexpr double kReserveStep = 0.1 * kDegree;
inline constexpr int kReserveFirst = 10;
inline constexpr int kReserveSteps = 300;
/// Where another gap limits it already: a quarter of the way, half of it and all of it are looked at. So far a gap does
/// not come back before the cam is where it limits.
inline constexpr int kReserveLooks = 4;

/// Found and asked this near to each other, mm, are the same. Searches for the same least end up to 2e-10 apart where
/// something else of the crown, or its mesh, differs.
inline constexpr double kAsAsked = 1e-9;

/// What is changed to mend a gap goes in steps that are told as they are: below 5 um and 0.01 degrees, as nobody makes
/// or sets anything finer.
inline constexpr double kMendMm = 0.001, kMendInch = 0.0001, kMendDegrees = 0.01;

/// How far, each way: mm of a pocket's depth and shift, twice that of its diameter; mm of gasket; of a seat and of a
/// valve's place, which move the chamber's work as well; degrees of a cam, as the reserve looks.
inline constexpr double kMendPocket = 5, kMendGasket = 2, kMendValve = 3, kMendCam = 30;

/// Looked at first so far from today, then twice as far each time: mm, degrees.
inline constexpr double kMendFirst = 0.05, kMendFirstCam = 0.5;

/// A margin that is less than today's by no more than this is not worse: what the coarser mesh may make of it.
inline constexpr double kMendNoise = 0.02;

/// After so many places further and further out that are all worse than today, no further ones are looked at.
inline constexpr int kMendWorse = 3;

/// Of the mesh while a change is looked for. Gaps come from exact faces but where one is free-form, and most of the
/// time goes into the mesh; the end is looked for once more with the mesh of a check.
inline constexpr double kMendDeflection = 0.05;

/// Halvings between what can be made and what cannot.
inline constexpr int kMendHalvings = 6;

/// A leaning piston that goes down moves aside by the way times its lean. Counted whole up to here, crank radians from
/// TDC: further away no valve is near.
inline constexpr double kRockAngle = 30 * kDegree;

/// A reading of the lift (mm) this near to one that the card has says nothing new.
inline constexpr double kKnownThere = 0.05;

/// A reading that narrows a lift by less than this (mm) is not worth the wheel.
inline constexpr double kWorthReading = 0.01;

/// Drop table: the least step of lift when something is near, and the width to which a limit is bisected.
inline constexpr double kLiftStep = 0.25;
inline constexpr double kLiftTolerance = 1e-3;

/// Crank angles that look-ups in fields start from; gaps near their least change by some tenths of a millimetre between
/// two.
inline constexpr double kFieldGrid = 2 * kDegree;
inline constexpr int kFieldAngles = 360;
/// Lifts that a course may choose among are looked up so far apart (mm), then narrowed to this: a gap that bends over a
/// millimetre is off by a tenth of a micrometre there.
inline constexpr double kLiftPart = 0.25;
inline constexpr double kLiftSettled = 0.02;
/// Lifts and places that differ by less (mm) are one for gaps between valves and to the bore.
inline constexpr double kAlike = 1e-6;
/// Fields are made for so many engines that share their solids; for fewer the proven searches are quicker.
inline constexpr std::size_t kFieldsWorth = 24;
/// Stretches in which a gap jumps are halved down to this.
inline constexpr double kJumpPart = kFieldGrid / 32;
/// Parabolas through three angles, at most, and how little they have to move to be done.
inline constexpr int kMostParabolas = 8;
inline constexpr double kParabolaAngle = 0.02 * kDegree;
/// Fields are made fine for what these many of the roomiest courses have at their least, and this much more (mm).
inline constexpr std::size_t kRoomiest = 4;
inline constexpr double kMoreRoom = 0.3;
/// Up to here the kernel looks for them.
inline constexpr double kTryFrom = 60 * kDegree, kTryStep = 5 * kDegree;
/// Where kernel and field differ by more than this (mm), the field missed something.
inline constexpr double kFieldAgrees = 0.005;
/// By how much a gap may differ within a cell in which it jumps, on its lower side: the cell's size at slope 2.
inline constexpr double kJumpCell = 0.05;
/// The lower side of a jump is looked for down to this: a gap changes by up to 0.1 mm a degree there.
inline constexpr double kSettleAngle = 0.005 * kDegree;

/// A driver that changes a gap by less than this (mm), all the way, is left out of its stack: the searches themselves
/// leave a fifth of a micrometre open, and fields a little more.
inline constexpr double kStackMatters = 5e-4;
/// Engines drawn at random to see how far a stack's surface is off. What is told leaves room for twice the greatest
/// difference seen, as so few say little of the rarest ones.
inline constexpr std::size_t kStackChecks = 36;
/// Of these, so many with parts of their own: to make a crown costs more than three searches in it. Where no driver
/// leaves the parts as they are, twice as many, and no others.
inline constexpr std::size_t kStackShapes = 12;
inline constexpr double kStackRoom = 2;
/// A surface this near (mm) is good enough: a map's cells are to the same.
inline constexpr double kStackFine = 0.003;
/// A driver whose two ends change every gap by the same to this (mm), up and down, is taken to do so straight: halfway
/// a parabola is an eighth of it off.
inline constexpr double kStackStraight = 0.0015;
/// Where the surface is further off, drivers are moved two at a time, so many pairs (of four engines) at most.
inline constexpr std::size_t kStackPairs = 20;
/// Where that is not enough, the surface is the least of up to so many smooth ones. Points of unit size are drawn in by
/// this, far below what they say; first guesses of which is which, and turns of each.
inline constexpr std::size_t kStackBranches = 3;
inline constexpr double kStackRidge = 1e-4;
inline constexpr std::uint64_t kStackGuesses = 24;
inline constexpr int kStackTurns = 20;
/// A place that there is no engine at is drawn in by half, so often at most.
inline constexpr int kStackDrawnIn = 3;
/// A worst case that an exact engine betters by less than this (mm) is found, after so many rounds at most.
inline constexpr double kStackBetter = 5e-4;
inline constexpr int kStackRounds = 40;
/// Places that the search on the surface starts from, beside the obvious one.
inline constexpr std::size_t kStackStarts = 40;
/// Exact engines that a gap which comes and goes is told from.
inline constexpr std::size_t kStackExact = 100;
/// Samples that one task takes, pairs of samples that the drivers' shares are told from, bins of a distribution.
inline constexpr std::size_t kStackBlock = 4096;
inline constexpr std::size_t kStackShares = 8192;
inline constexpr std::size_t kStackBins = 60;
/// Samples at most where each has to be looked at for whether there is such an engine.
inline constexpr std::size_t kStackLooked = 20000;

/// Fault: the step of the printed series must lie in this range.
inline constexpr double kLeastStep = 0.01 * kDegree;
inline constexpr double kGreatestStep = 10 * kDegree;

}  // namespace eyebrow::study
