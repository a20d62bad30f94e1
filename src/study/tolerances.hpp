// Every number that the study chooses for itself, and why.
#pragma once
#include "eyebrow/vec.hpp"

namespace eyebrow::study {

/// The span of a minimum: crank angles whose gap is within this of the least (design: 2 um).
inline constexpr double kSpanBand = 0.002;
/// Ends of a span are found to this; it is a width to read, not to compute with.
inline constexpr double kSpanAngle = 1e-3 * kDegree;

/// A stretch of crank angle that cannot be lower than the best by more than this is left alone: a fifth of the
/// micrometre that is promised, twice what the kernel's searches leave open (finer, their scatter would be chased).
inline constexpr double kValueTolerance = 2e-4;
/// Stretches are split in four down to this. The parts move less than 0.2 um in it, so a jump is found within the half
/// micrometre that a gap's own interval covers.
inline constexpr double kFinestAngle = 1e-4 * kDegree;
/// Below this width a smooth least is missed by less than 1e-6 mm (a tight spot's curvature is some 3e-4 mm a square
/// degree); what values differ by there is the searches' scatter, unless it is ...
inline constexpr double kSmoothAngle = 0.01 * kDegree;
/// ... more than this: a jump, or two slopes that meet at an angle. Half of it is the most that is missed.
inline constexpr double kJumpStep = 0.001;
/// A gap that can jump: above this width a stretch is judged by how far the parts move in it as well, below it by the
/// slopes of the gap alone. Movement proves nothing for such a gap, but it says where to look twice.
inline constexpr double kMovementAngle = 0.3 * kDegree;
/// A gap that begins to exist between two angles is looked for unless its value beside is higher than the best by this
/// many times the way that the parts travel between them.
inline constexpr double kAppearing = 20;
/// Way and sag of a path are measured at five places; a twentieth more covers what lies between them.
inline constexpr double kPathFactor = 1.05;
/// Equal leasts (closed valves, both TDCs) differ by rounding only: the one nearest overlap TDC is reported.
inline constexpr double kTie = 1e-9;
/// Grid for gaps that have no printed series (pairs, bore): how fine does not matter, movement decides what is split.
inline constexpr double kCoarseStep = 4 * kDegree;
/// They stay nearly level over many degrees, which makes the last tenth of a micrometre dear: half of one is enough.
inline constexpr double kCoarseTolerance = 5e-4;

/// Poses this near are one: far above the rounding of two strokes' heights, far below any length that is reported.
inline constexpr double kSamePlace = 1e-9;

/// Samples that one task takes: small enough to stop and to show progress, large against a task's cost.
inline constexpr int kChunk = 8;

/// Beside this, an interval is worth a word (2 um is what half a micrometre each way makes at slope 2).
inline constexpr double kWideInterval = 0.02;

/// Drop table: the least step of lift when something is near, and the width to which a limit is bisected.
inline constexpr double kLiftStep = 0.25;
inline constexpr double kLiftTolerance = 1e-3;

/// Fault: the step of the printed series must lie in this range.
inline constexpr double kLeastStep = 0.01 * kDegree;
inline constexpr double kGreatestStep = 10 * kDegree;

}  // namespace eyebrow::study
