// Does a side of a pocket look at the rim? The share of its normal along the way from the valve's axis, negative where
// it does, and how much that changes over a sheet.
#pragma once
#include "eyebrow/profile.hpp"
#include "sheet.hpp"

namespace eyebrow::gap {

/// The normal's level part (square to the valve's axis) times the level way from the axis to a place.
inline double turned_away(Vec3 q, Vec3 normal) {
  return normal.x * q.x + normal.y * q.y;
}

/// Does an edge of a face go round the face's axis, so that the normals along it only turn about that?
bool circles(const Arc& arc, const Face& face);

/// How much `turned_away` may change between a sheet's centre, at q, and any place of it: along the sheet's two
/// parameters. `face`: whose it is, or whose edge. Valve's axes, origin at the rim-plane centre.
struct TurnOver {
  double around = 0, along = 0;
  double both() const { return around + along; }
};
TurnOver turn_over(const Sheet& sheet, Vec3 q, Vec3 normal, const Face& face);

/// Does a function of (r, w), r the distance from the valve's axis, slope everywhere on a face's sheet? Then it is
/// least on the edges of the face and nowhere within. `steep`, `flat`: bounds of the angle, 0 to a right one, by which
/// the way that it grows dips below the level one (negative: rises). `normal`: the face's at the centre, at q, to
/// either side. False where in doubt.
bool slopes_throughout(const Sheet& sheet, Vec3 q, Vec3 normal, double steep, double flat);

/// The surface's own unit normal at a face's sheet's centre, to either side.
Vec3 normal_at_centre(const Sheet& sheet);

}  // namespace eyebrow::gap
