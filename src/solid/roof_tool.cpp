#include "solid/roof_tool.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <cmath>

#include <fmt/format.h>

#include "solid/occt.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

/// Frame on the line where a roof plane meets the crown flat: z out of the metal, x level along the line.
Frame plane_frame(const RoofPlane& plane) {
  const Vec3 toward{std::cos(plane.toward), std::sin(plane.toward), 0};
  const Vec3 normal = std::sin(plane.slope) * toward + std::cos(plane.slope) * Vec3{0, 0, 1};
  const Vec3 level{-toward.y, toward.x, 0};
  return {plane.meets * toward, level, cross(normal, level), normal};
}

/// A box from `z` = 0 of the frame upward, wide enough for all around `reach`.
TopoDS_Shape box_above(const Frame& frame, double reach, double height) {
  Frame corner = frame;
  corner.origin = frame.origin - reach * frame.x - reach * frame.y;
  return BRepPrimAPI_MakeBox(to_ax2(corner), 2 * reach, 2 * reach, height).Shape();
}

}  // namespace

TopoDS_Shape roof_tool(const RoofDome& roof, double reach, double height) {
  // The roof, carried a little below the flat so that no face of it lies in the flat.
  TopoDS_Shape metal = box_above({{0, 0, -kBeyond}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, reach, kBeyond + roof.plateau);
  for (const RoofPlane& plane : roof.planes) {
    metal = BRepAlgoAPI_Cut(metal, box_above(plane_frame(plane), 4 * reach, 4 * reach)).Shape();
  }
  const TopoDS_Shape above = box_above({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, reach, height);
  return BRepAlgoAPI_Cut(above, metal).Shape();
}

std::vector<NamedSurface> roof_surfaces(const RoofDome& roof) {
  Frame plateau;
  plateau.origin = {0, 0, roof.plateau};
  std::vector<NamedSurface> surfaces{{named(Group::dome, "dome plateau", Surface::plane, plateau), {}}};
  for (std::size_t i = 0; i < roof.planes.size(); ++i) {
    surfaces.push_back(
        {named(Group::dome, fmt::format("dome plane {}", i + 1), Surface::plane, plane_frame(roof.planes[i])), {}});
  }
  return surfaces;
}

}  // namespace eyebrow
