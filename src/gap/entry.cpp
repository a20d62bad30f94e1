#include "entry.hpp"

#include <algorithm>
#include <cmath>

#include "tolerances.hpp"

namespace eyebrow::gap {

double entry_depth(const Target& target, int pocket, Vec3 rim_centre, Vec3 up, double rim_radius) {
  if (pocket < 0 || pocket >= target.pockets() || target.mouth(pocket).empty()) return NAN;
  const std::vector<Vec3>& mouth = target.mouth(pocket);
  const Vec3 down = Vec3{0, 0, -1} + dot(Vec3{0, 0, 1}, up) * up;  // steepest way down within the rim plane
  const double tilt = norm(down);
  if (tilt < kUpright) {
    double top = -1e300;
    for (const Vec3& p : mouth) top = std::max(top, p.z);
    return top - rim_centre.z;
  }
  const Vec3 lowest = rim_centre + (rim_radius / tilt) * down;
  const auto wall = std::find_if(target.crown().faces.begin(), target.crown().faces.end(),
                                 [&](const Face& f) { return f.pocket == pocket && f.group == Group::wall; });
  const Frame axis = wall != target.crown().faces.end() ? wall->frame : Frame{rim_centre, {}, {}, up};
  const Vec3 x = unit(cross(cross(axis.z, lowest - axis.origin), axis.z)), y = cross(axis.z, x);
  double least = 1e300, height = NAN;
  for (const Vec3& p : mouth) {
    const Vec3 d = p - axis.origin;
    // Rises with the angle between the two, 0 ... pi; the angle itself would cost as much as a whole gap.
    const double along = dot(d, x), across = std::fabs(dot(d, y)), size = along > 0 ? along + across : across - along;
    const double turn = along > 0 ? across / size : 2 - across / size;
    if (turn < least) {
      least = turn;
      height = p.z;
    }
  }
  return height - lowest.z;
}

}  // namespace eyebrow::gap
