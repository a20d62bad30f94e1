// Every tolerance of the solids, with why that number. Lengths in mm.
#pragma once

namespace eyebrow {

/// Pieces of an outline shorter than this are left out: the modeller's own confusion distance is 1e-7.
inline constexpr double kLeastPiece = 1e-6;

/// A face belongs to a surface that was asked for when its points are no further from it. Larger than the modeller's
/// approximation of intersection curves (about 1e-7 to 1e-6), far smaller than any two surfaces that a shop tells
/// apart.
inline constexpr double kSameSurface = 1e-5;

/// Mesh vertices are moved onto the exact surfaces until they are no further off than this: a thousandth of the
/// accuracy promised for a gap (1 um), reachable in double at 100 mm (1e-14).
inline constexpr double kOnSurface = 1e-9;

/// Relative error allowed between volume before less common part and volume after a boolean: what the modeller's
/// integration reaches; a boolean that fails is off by a whole pocket.
inline constexpr double kBooleanVolume = 1e-6;

/// Relative error allowed between the pockets' volume by the modeller and by our own quadrature: the quadrature's own
/// error on the grid it uses is below half of this.
inline constexpr double kQuadrature = 2e-3;

/// A cut that takes less than this, mm3, has missed: a mark of 0.02 mm on 1 mm.
inline constexpr double kLeastCut = 1e-3;

/// A tool that should take less than this, mm3, and that the modeller does not find cuts a sliver: 0.1 mm over 10 x 10
/// mm. The numbers are to blame, not the modeller.
inline constexpr double kSliver = 10;

/// Metal below the deepest feature when the file gives no underside.
inline constexpr double kMetalBelow = 8.0;

/// Tools reach this far beyond what they cut, so that no face of a tool lies in a face of the crown.
inline constexpr double kBeyond = 2.0;

/// Metal modelled around and below the bore.
inline constexpr double kBlockWall = 15.0;

/// Margin on the mesh's error, which is computed to second order from the edges' midpoints: covers the third order.
inline constexpr double kErrorMargin = 1.1;

}  // namespace eyebrow
