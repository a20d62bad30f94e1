// Every tolerance of the gap kernel, in mm unless said otherwise, each with why it has that value.
#pragma once

namespace eyebrow::gap {

/// A gap's interval holds over all relative displacements this small: what a gap may claim at a jump.
inline constexpr double kPoseBall = 0.0005;

/// A search ends when nothing unexplored can lie this far below the best found: a tenth of the reported micrometre.
inline constexpr double kSearch = 1e-4;

/// Cells a search may open before it stops and widens its interval. Ties of a rim with a coaxial wall open some 10^4.
inline constexpr long kBudget = 400000;

/// Sheets that one search may open before it leaves the answer to the mesh: what that costs about as much as.
inline constexpr long kSheetBudget = 150000;

/// The same for radial: beside a rounded rim about a corner on nearly the same axis it takes some 1e4, and the mesh,
/// told where it gives up, knows neither what of a corner's bottom looks at the rim nor where its face ends.
inline constexpr long kRadialBudget = 20000;

/// Times that a sheet is halved, at most: 1e2 mm both ways down to rounding.
inline constexpr int kSheetDepth = 80;

/// Parts that a valve in overlap can run into one behind another while it withdraws: far more than any crown has.
inline constexpr int kChain = 32;

/// Ray marching ends this near the valve's surface: far below the pose ball, far above rounding at 1e3 mm.
inline constexpr double kTouch = 1e-9;

/// Feet nearer to each other than this are one foot: far below the pose ball, and the search ends where the valve's
/// brink (a sharp rim, a margin seen edge on) cuts a face.
inline constexpr double kBrink = 1e-6;

/// Steps from a rim edge's sharp corner to its arc along a ray. At grazing incidence the steps shrink; where they run
/// out the last place is what is told: it is short of the meeting.
inline constexpr int kMarch = 96;

/// An interval wider than this is a jump: ten times the widest that smooth geometry gives (slope 1/cos 40 degrees).
inline constexpr double kJump = 0.02;

/// So many times the mesh's error more, where the crown is known by its mesh alone: both ways, at slope 1.5.
inline constexpr double kByMesh = 3;

/// How near an edge's arcs keep to the points of its chain: a ten-thousandth of the reported micrometre.
inline constexpr double kArcFit = 1e-7;

/// How far an arc may be off the edge between those points. It goes with the cube of their distance; the worst that
/// random crowns showed is 4e-6, where two walls meet at a small angle.
inline constexpr double kArcOff = 1e-5;

/// A foot this near to the border of its face counts as on it: more than the straight pieces of a border sag between
/// an edge's fine points.
inline constexpr double kBorder = 2e-5;

/// Ends of two sides of a border that meet differ by rounding: 1e-15 of a coordinate of 1e2 mm, or of a turn.
inline constexpr double kSideEnd = 1e-9;

/// A border's side spans no more than this of a turn (radians) around a face's axis: at distance d from it, it is then
/// straight in azimuth and height to 5e-5 d, where it matters (d below a millimetre) some ten nanometres. One through
/// the axis itself is halved so many times.
inline constexpr double kWidestSide = 0.02;
inline constexpr int kMostSideHalvings = 40;

/// A search over edges ends when nothing left can lie this far below the best found.
inline constexpr double kEdgeSearch = 1e-5;

/// The same where the foot counts as well, which lies off by the root of it: a few tenths of a micrometre.
inline constexpr double kFootSearch = 1e-8;

/// Two faces whose normals differ by less than this, in radians, meet smoothly.
inline constexpr double kSmooth = 1e-5;

/// A wall seen edge on within this, as a sine, looks at the rim: where a floor is square to the valve's axis rounding
/// must not decide whether the bottom of its corner does.
inline constexpr double kEdgeOn = 1e-6;

/// A function slopes where its way and the normal are further apart than their bounds by this, in radians: rounding.
inline constexpr double kSlopes = 1e-9;

/// The normals along an edge that goes round its face's axis are off their cone by no more than this.
inline constexpr double kCircles = 1e-7;

/// Where a field's cell's own low lies no further under its samples than this, nothing jumps in it: a bound over the
/// finest cell, at slope 1.
inline constexpr double kFieldJump = 0.02;
/// Above the gaps that a field is wanted for its tolerance, and what counts as a jump, grow by this share of what is
/// above, its finest cell by the second. In an overlap by the third: what is told there is that parts touch.
inline constexpr double kCoarser = 0.02, kCoarserCell = 0.1, kCoarserDeep = 0.02;
/// What a kink may be off by in the middle of the finest cells; it can be twice that beside it.
inline constexpr double kKink = 0.0025;
/// A kink along an axis: cells so much narrower than the finest, where they are so much longer.
inline constexpr double kKinkCell = 1.0 / 16, kKinkLength = 8;
/// Contact lift: a jump is located to the first. A stretch whose own low lies no further under its ends than the second
/// has none. Stretches are not made shorter than the third: what is steeper counts as a jump.
inline constexpr double kLocated = 1e-9, kStretchJump = 0.005, kFinestStretch = 1e-3;

/// Directions shorter than this have no azimuth: the valve stands upright.
inline constexpr double kUpright = 1e-9;

}  // namespace eyebrow::gap
