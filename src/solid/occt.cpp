#include "solid/occt.hpp"

#include <BOPTools_AlgoTools3D.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepGProp.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <IntTools_Context.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Pnt2d.hxx>

namespace eyebrow {
namespace {

// Relative error asked of the volume integral; its default rule is off by up to 1e-5 on faces with curved trims.
constexpr double kIntegral = 1e-9;

Frame to_frame(const gp_Ax3& axes) {
  return {to_vec(axes.Location()), to_vec(axes.XDirection()), to_vec(axes.YDirection()), to_vec(axes.Direction())};
}

void read_turned_circle(const BRepAdaptor_Surface& surface, Face& read) {
  read.kind = Surface::free_form;
  const Handle(Adaptor3d_Curve) curve = surface.BasisCurve();
  if (curve->GetType() != GeomAbs_Circle) return;
  const gp_Circ circle = curve->Circle();
  const Frame about =
      frame_about(to_vec(surface.AxeOfRevolution().Location()), to_vec(surface.AxeOfRevolution().Direction()));
  const Vec3 from = to_vec(circle.Location()) - about.origin;
  read.kind = Surface::torus;
  read.frame = about;
  read.frame.origin = about.origin + dot(from, about.z) * about.z;
  read.radius = norm(from - dot(from, about.z) * about.z);
  read.radius2 = circle.Radius();
}

}  // namespace

Face read_surface(const TopoDS_Face& face) {
  const BRepAdaptor_Surface surface(face);
  Face read;
  switch (surface.GetType()) {
    case GeomAbs_Plane:
      read.kind = Surface::plane;
      read.frame = to_frame(surface.Plane().Position());
      break;
    case GeomAbs_Cylinder:
      read.kind = Surface::cylinder;
      read.frame = to_frame(surface.Cylinder().Position());
      read.radius = surface.Cylinder().Radius();
      break;
    case GeomAbs_Cone:
      read.kind = Surface::cone;
      read.frame = to_frame(surface.Cone().Position());
      read.radius = surface.Cone().RefRadius();
      read.radius2 = surface.Cone().SemiAngle();
      if (read.radius2 < 0) {  // ours opens along its axis
        read.radius2 = -read.radius2;
        read.frame.z = -read.frame.z;
        read.frame.y = -read.frame.y;
      }
      break;
    case GeomAbs_Sphere:
      read.kind = Surface::sphere;
      read.frame = to_frame(surface.Sphere().Position());
      read.radius = surface.Sphere().Radius();
      break;
    case GeomAbs_Torus:
      read.kind = Surface::torus;
      read.frame = to_frame(surface.Torus().Position());
      read.radius = surface.Torus().MajorRadius();
      read.radius2 = surface.Torus().MinorRadius();
      break;
    case GeomAbs_SurfaceOfRevolution:
      // The sweep names a torus only when the tube is thinner than its circle; a wide corner radius is one all the
      // same.
      read_turned_circle(surface, read);
      break;
    default:
      read.kind = Surface::free_form;
      break;
  }
  return read;
}

ProfileElement line_piece(Point2 from, Point2 to) {
  ProfileElement piece;
  piece.from = from;
  piece.to = to;
  return piece;
}

ProfileElement arc_piece(Point2 from, Point2 to, Point2 centre, double radius) {
  ProfileElement piece = line_piece(from, to);
  piece.centre = centre;
  piece.radius = radius;
  return piece;
}

Frame tool_frame(Vec3 origin, Vec3 up, double turn) {
  const double sine = std::hypot(up.x, up.y);
  const Vec3 high = sine > 1e-12 ? unit(Vec3{-up.x * up.z, -up.y * up.z, sine * sine}) : Vec3{1, 0, 0};
  const Vec3 side = cross(up, high);
  const Vec3 x = std::cos(turn) * high + std::sin(turn) * side;
  return {origin, x, cross(up, x), up};
}

TopoDS_Shape revolve(const std::vector<ProfileElement>& outline, const Frame& frame) {
  const auto at = [&](Point2 p) { return to_pnt(frame.origin + p.r * frame.x + p.w * frame.z); };
  BRepBuilderAPI_MakeWire wire;
  for (const ProfileElement& piece : outline) {
    if (piece.radius == 0) {
      wire.Add(BRepBuilderAPI_MakeEdge(at(piece.from), at(piece.to)));
      continue;
    }
    // Each arc here is less than half a turn. Its circle starts outward from the axis: only then does the sweep make a
    // torus known as such, and not a general surface of revolution.
    const Point2 c = piece.centre;
    const bool turns_up = (piece.from.r - c.r) * (piece.to.w - c.w) > (piece.from.w - c.w) * (piece.to.r - c.r);
    const gp_Ax2 axes(at(c), to_dir(turns_up ? -frame.y : frame.y), to_dir(frame.x));
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Circ(axes, piece.radius), at(piece.from), at(piece.to)));
  }
  wire.Add(BRepBuilderAPI_MakeEdge(at(outline.back().to), at(outline.front().from)));
  const gp_Ax1 axis(to_pnt(frame.origin), to_dir(frame.z));
  TopoDS_Shape solid = BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire(), true).Face(), axis).Shape();
  GProp_GProps about;  // its sign is all that is asked
  BRepGProp::VolumeProperties(solid, about);
  if (about.Mass() < 0) solid.Reverse();
  return solid;
}

double volume_of(const TopoDS_Shape& shape) {
  GProp_GProps properties;
  BRepGProp::VolumeProperties(shape, properties, kIntegral);
  return properties.Mass();
}

double area_of(const TopoDS_Face& face) {
  GProp_GProps properties;
  BRepGProp::SurfaceProperties(face, properties, kIntegral);
  return std::fabs(properties.Mass());
}

int count_faces(const TopoDS_Shape& shape) {
  int count = 0;
  for (TopExp_Explorer each(shape, TopAbs_FACE); each.More(); each.Next()) ++count;
  return count;
}

Vec3 outward_at_middle(const TopoDS_Face& face) {
  double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
  BRepTools::UVBounds(face, u0, u1, v0, v1);
  gp_Pnt at;
  gp_Vec outward;
  BRepGProp_Face(face).Normal((u0 + u1) / 2, (v0 + v1) / 2, at, outward);
  return to_vec(outward.XYZ());
}

Vec3 point_inside(const TopoDS_Face& face) {
  gp_Pnt point;
  gp_Pnt2d parameters;
  const Handle(IntTools_Context) context = new IntTools_Context;
  BOPTools_AlgoTools3D::PointInFace(face, point, parameters, context);
  return to_vec(point);
}

}  // namespace eyebrow
