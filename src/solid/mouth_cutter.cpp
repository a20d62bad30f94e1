#include "solid/mouth_cutter.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Elips.hxx>

#include "solid/occt.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

constexpr TopPlane kFlat{{0, 0, 0}, {0, 0, 1}};
constexpr int kAzimuths = 720;   // round a mouth, where its top is looked at
constexpr double kInside = 0.3;  // the cutter reaches this far inside floor's edge, through void
// The cutter stops this far above the floor: a break never goes below it, and no two planes coincide.
constexpr double kAboveFloor = 0.02;
constexpr double kOnBreak = 1e-4;  // a point belongs to a break's surface when off by no more

/// Height of `p` above a plane, along the tool's axis.
double height_above(const TopPlane& plane, const Tool& tool, Vec3 p) {
  return dot(p - plane.point, plane.normal) / dot(tool.up, plane.normal);
}

std::vector<TopPlane> roof_planes(const RoofDome& roof) {
  std::vector<TopPlane> planes{{{0, 0, roof.plateau}, {0, 0, 1}}};
  for (const RoofPlane& each : roof.planes) {
    const Vec3 toward{std::cos(each.toward), std::sin(each.toward), 0};
    planes.push_back({each.meets * toward, std::sin(each.slope) * toward + std::cos(each.slope) * Vec3{0, 0, 1}});
  }
  return planes;
}

bool upright(const TopPlane& plane, const Tool& tool) {
  return norm(cross(plane.normal, tool.up)) < 1e-12;
}

/// Height above a plane changes by this along its steepest way square to the tool's axis.
double slope_of(const TopPlane& plane, const Tool& tool) {
  return norm(cross(plane.normal, tool.up)) / dot(plane.normal, tool.up);
}

/// x is that way.
Frame sheared_frame(const TopPlane& plane, const Tool& tool, Vec3 crossing) {
  const Vec3 z = unit(tool.up), x = unit(plane.normal - dot(plane.normal, z) * z);
  return {crossing, x, cross(z, x), z};
}

/// All inside the sheared cone r = R + width + h about the tool's axis, h = height above the plane, from low to high.
TopoDS_Shape cone_over(const TopPlane& plane, const Tool& tool, double width, double low, double high, double turn) {
  const double slope = dot(plane.normal, tool.up);
  const Vec3 crossing = tool.floor_centre - height_above(plane, tool, tool.floor_centre) * tool.up;
  const double r_low = tool.radius + width + low, r_high = tool.radius + width + high;
  if (upright(plane, tool)) {
    return revolve({line_piece({0, low}, {r_low, low}), line_piece({r_low, low}, {r_high, high}),
                    line_piece({r_high, high}, {0, high})},
                   tool_frame(crossing, tool.up, turn));
  }
  // Level lines of h are ellipses: what a cylinder about the axis cuts from planes parallel to this one.
  const Vec3 downhill = unit(tool.up - slope * plane.normal);
  const auto ring = [&](double h, double r) {
    const gp_Ax2 axes(to_pnt(crossing + h * tool.up), to_dir(plane.normal), to_dir(downhill));
    return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(gp_Elips(axes, r / slope, r), turn, turn + 2 * kPi)).Wire();
  };
  BRepOffsetAPI_ThruSections sections(true, true);
  sections.CheckCompatibility(false);
  sections.AddWire(ring(low, r_low));
  sections.AddWire(ring(high, r_high));
  sections.Build();
  return sections.Shape();
}

}  // namespace

MouthTop mouth_top(const Piston& piston, const Tool& tool, double width) {
  MouthTop top;
  if (!piston.roof_dome) {
    top.flat = true;
    return top;
  }
  const std::vector<TopPlane> planes = roof_planes(*piston.roof_dome);
  std::vector<bool> used(planes.size(), false);
  bool near_roof = false;
  const Frame frame = tool_frame(tool.floor_centre, tool.up, 0);
  for (int i = 0; i < kAzimuths; ++i) {
    const double azimuth = 2 * kPi * i / kAzimuths;
    for (const double r : {tool.radius, tool.radius + width}) {
      const Vec3 p = frame.origin + r * std::cos(azimuth) * frame.x + r * std::sin(azimuth) * frame.y;
      // Highest above a plane = that plane is the lowest there.
      const auto lowest = std::max_element(planes.begin(), planes.end(), [&](const TopPlane& a, const TopPlane& b) {
        return height_above(a, tool, p) < height_above(b, tool, p);
      });
      used[static_cast<std::size_t>(lowest - planes.begin())] = true;
      // The roof's height over the flat. Within a break's width of each other both have a say.
      const double over = height_above(kFlat, tool, p) - height_above(*lowest, tool, p);
      top.flat = top.flat || over < width + kBeyond;
      near_roof = near_roof || over > -width - kBeyond;
      top.apart = std::max(top.apart, std::fabs(over));
    }
  }
  for (std::size_t i = 0; near_roof && i < planes.size(); ++i) {
    if (used[i]) top.roof.push_back(planes[i]);
  }
  return top;
}

TopoDS_Shape mouth_cutter(const Tool& tool, const MouthTop& top, double width, double turn) {
  const double low = -width - tool.corner - kInside, high = top.apart + kBeyond;
  TopoDS_Shape cutter;
  for (const TopPlane& plane : top.roof) {
    const TopoDS_Shape cone = cone_over(plane, tool, width, low, high, turn);
    cutter = cutter.IsNull() ? cone : BRepAlgoAPI_Fuse(cutter, cone).Shape();
  }
  if (top.flat) {
    const TopoDS_Shape cone = cone_over(kFlat, tool, width, low, high, turn);
    cutter = cutter.IsNull() ? cone : BRepAlgoAPI_Common(cutter, cone).Shape();
  }
  const double reach = 2 * (tool.radius + width + high);
  const Frame above_floor = tool_frame(tool.floor_centre + kAboveFloor * tool.up, tool.up, turn);
  const TopoDS_Shape void_above = BRepPrimAPI_MakeCylinder(to_ax2(above_floor), reach, 4 * reach).Shape();
  return BRepAlgoAPI_Common(cutter, void_above).Shape();
}

std::vector<NamedSurface> mouth_surfaces(const CrownTool& tool, const MouthTop& top) {
  std::vector<TopPlane> planes = top.roof;
  if (top.flat) planes.push_back(kFlat);
  const Tool& t = tool.tool;
  const std::string name = tool.what + " mouth";
  std::vector<NamedSurface> surfaces;
  for (const TopPlane& plane : planes) {
    const Vec3 crossing = t.floor_centre - height_above(plane, t, t.floor_centre) * t.up;
    const double outer = t.radius + tool.mouth_break;
    const bool cone = upright(plane, t);
    NamedSurface surface{named(Group::mouth, name, cone ? Surface::cone : Surface::sheared_cone,
                               cone ? tool_frame(crossing, t.up, 0) : sheared_frame(plane, t, crossing), outer,
                               cone ? kPi / 4 : slope_of(plane, t)),
                         {}};
    surface.owns = [plane, t, outer](Vec3 p) {
      const double r = norm(cross(p - t.floor_centre, t.up));
      return std::fabs(height_above(plane, t, p) - (r - outer)) < kOnBreak;
    };
    surfaces.push_back(std::move(surface));
  }
  surfaces.push_back(
      {named(Group::mouth, name, Surface::plane, tool_frame(t.floor_centre + kAboveFloor * t.up, t.up, 0)), {}});
  for (NamedSurface& surface : surfaces) surface.face.pocket = tool.pocket;
  return surfaces;
}

}  // namespace eyebrow
