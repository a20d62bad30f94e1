#include "scene/around_bore.hpp"

#include <algorithm>
#include <cmath>

#include "solid/tolerances.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kWallShown = 3.5;  // mm around the widest place

}  // namespace

Crown thin_around(Crown around) {
  double outer = 0;
  for (const Vec3 p : around.points) outer = std::max(outer, std::hypot(p.x, p.y));
  const double kept = outer - kBlockWall + kWallShown;
  const auto draw_in = [&](Vec3& p) {
    const double radius = std::hypot(p.x, p.y);
    if (radius > kept) p = {p.x * kept / radius, p.y * kept / radius, p.z};
  };
  for (Vec3& p : around.points) draw_in(p);
  for (Edge& edge : around.edges)
    for (Vec3& p : edge.points) draw_in(p);
  return around;
}

bool is_block_inside(const Face& face) {
  return face.group == Group::bore && face.name != "block outside" && face.name != "block bottom";
}

bool is_gasket_seen(const Face& face) {
  return face.group == Group::gasket && face.name != "gasket outside" && face.name != "gasket underside";
}

}  // namespace eyebrow::scene
