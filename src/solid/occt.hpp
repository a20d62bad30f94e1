// Private: small conversions between our plain types and the modeller's. Only .cpp files of this folder include it.
#pragma once
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>
#include <vector>

#include "eyebrow/crown.hpp"
#include "eyebrow/profile.hpp"
#include "eyebrow/vec.hpp"

namespace eyebrow {

inline gp_Pnt to_pnt(Vec3 p) {
  return {p.x, p.y, p.z};
}
inline gp_Dir to_dir(Vec3 v) {
  return {v.x, v.y, v.z};
}
inline Vec3 to_vec(const gp_XYZ& p) {
  return {p.X(), p.Y(), p.Z()};
}
inline Vec3 to_vec(const gp_Pnt& p) {
  return to_vec(p.XYZ());
}
inline Vec3 to_vec(const gp_Dir& d) {
  return to_vec(d.XYZ());
}
inline gp_Ax2 to_ax2(const Frame& frame) {
  return {to_pnt(frame.origin), to_dir(frame.z), to_dir(frame.x)};
}

/// Kind, frame and radii of a face as the modeller has them; no name, no group.
Face read_surface(const TopoDS_Face& face);

/// The solid that an outline in the half plane (r, w) sweeps about `frame`'s z; the seam lies on frame.x. An outline
/// that starts and ends on the axis is closed along it, any other is closed from its last to its first point.
TopoDS_Shape revolve(const std::vector<ProfileElement>& outline, const Frame& frame);

/// A straight or an arc piece of such an outline.
ProfileElement line_piece(Point2 from, Point2 to);
ProfileElement arc_piece(Point2 from, Point2 to, Point2 centre, double radius);

/// Frame at `origin` with z = `up`, turned about it by `turn` from where x points to the high side (up to +x if
/// upright).
Frame tool_frame(Vec3 origin, Vec3 up, double turn);

double volume_of(const TopoDS_Shape& shape);
double area_of(const TopoDS_Face& face);
int count_faces(const TopoDS_Shape& shape);

/// Normal out of the metal in the middle of the face's parameters: of a plane, anywhere.
Vec3 outward_at_middle(const TopoDS_Face& face);

/// A point well inside a face.
Vec3 point_inside(const TopoDS_Face& face);

}  // namespace eyebrow
