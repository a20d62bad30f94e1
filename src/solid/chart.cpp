#include "solid/chart.hpp"

#include <BRepGProp_Face.hxx>
#include <BRepTools.hxx>
#include <ElSLib.hxx>
#include <algorithm>
#include <array>
#include <cmath>

#include "solid/exact_surface.hpp"
#include "solid/occt.hpp"

namespace eyebrow {
namespace {

// An even triangle of side s on curvature k is off by k s^2 / 6 at its centre: this share of the deflection.
constexpr double kGridShare = 0.8;
// On a surface that is straight one way, the chart's height in units: low, so that triangles join what is side by side.
constexpr double kStraightHeight = 1.0;
constexpr double kRow = 0.8660254037844386;  // height of an even triangle of side 1

constexpr int kBendProbes = 12;  // places along and across a free-form face where its bend is looked at

/// Spacing of points on a surface of that curvature radius.
double spacing(double radius, double deflection) {
  return std::sqrt(6 * kGridShare * deflection * radius);
}

bool is_spline(const BRepAdaptor_Surface& surface) {
  return surface.GetType() == GeomAbs_BSplineSurface || surface.GetType() == GeomAbs_BezierSurface ||
         surface.GetType() == GeomAbs_SurfaceOfExtrusion || surface.GetType() == GeomAbs_OffsetSurface ||
         surface.GetType() == GeomAbs_OtherSurface;
}

}  // namespace

Chart::Chart(const TopoDS_Face& shape, const Face& face, double deflection)
    : shape_(shape), face_(face), surface_(shape, false), spline_(is_spline(surface_)) {
  double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
  BRepTools::UVBounds(shape, u0, u1, v0, v1);
  const bool angles = !spline_ || face.kind == Surface::plane || face.kind == Surface::sphere;
  switch (angles ? face.kind : Surface::free_form) {
    case Surface::plane:
      break;
    case Surface::sphere:
      unit_u_ = unit_v_ = spacing(face.radius, deflection);
      break;
    case Surface::cylinder:
    case Surface::cone: {
      double radius = face.radius;
      if (face.kind == Surface::cone) {
        const gp_Cone cone = surface_.Cone();
        radius = std::max(std::fabs(cone.RefRadius() + v0 * std::sin(cone.SemiAngle())),
                          std::fabs(cone.RefRadius() + v1 * std::sin(cone.SemiAngle())));
        radius = std::max(radius, 1e-6);
      }
      unit_u_ = spacing(radius, deflection) / radius;
      unit_v_ = std::max(v1 - v0, 1e-9) / kStraightHeight;
      break;
    }
    case Surface::torus:
      unit_u_ = spacing(face.radius + face.radius2, deflection) / (face.radius + face.radius2);
      unit_v_ = spacing(face.radius2, deflection) / face.radius2;
      break;
    case Surface::sheared_cone:
    case Surface::free_form: {
      double bent_u = 0, bent_v = 0;
      for (int i = 0; i <= kBendProbes; ++i) {
        for (int j = 0; j <= kBendProbes; ++j) {
          gp_Pnt point;
          gp_Vec du, dv, duu, dvv, duv;
          surface_.D2(u0 + (u1 - u0) * i / kBendProbes, v0 + (v1 - v0) * j / kBendProbes, point, du, dv, duu, dvv, duv);
          const gp_Vec normal = du.Crossed(dv);
          if (normal.Magnitude() < 1e-12) continue;
          bent_u = std::max(bent_u, std::fabs(duu.Dot(normal.Normalized())));
          bent_v = std::max(bent_v, std::fabs(dvv.Dot(normal.Normalized())));
        }
      }
      // A surface with second derivative b across it is off by b s^2 / 6 in the middle of an even triangle of side s.
      const auto unit = [&](double bent, double range) {
        const double even = std::sqrt(6 * kGridShare * deflection / std::max(bent, 1e-12));
        return std::max(std::min(even, range / kStraightHeight), 1e-9);
      };
      unit_u_ = unit(bent_u, u1 - u0);
      unit_v_ = unit(bent_v, v1 - v0);
      break;
    }
  }
  if (surface_.IsUClosed()) turn_u_ = (surface_.LastUParameter() - surface_.FirstUParameter()) / unit_u_;
  if (surface_.IsVClosed()) turn_v_ = (surface_.LastVParameter() - surface_.FirstVParameter()) / unit_v_;
}

ChartPoint Chart::place(Vec3 p, const gp_Pnt2d& uv) const {
  if (!seamless()) return {uv.X() / unit_u_, uv.Y() / unit_v_};
  const Vec3 from = p - face_.frame.origin;
  const double x = dot(from, face_.frame.x), y = dot(from, face_.frame.y), z = dot(from, face_.frame.z);
  const double across = std::hypot(x, y);
  if (across == 0) return {0, 0};
  const double arc = face_.radius * std::atan2(across, z) / unit_u_;
  return {arc * x / across, arc * y / across};
}

Vec3 Chart::on_surface(ChartPoint place) const {
  if (seamless()) {
    const double arc = std::hypot(place.a, place.b), angle = arc * unit_u_ / face_.radius;
    const double along = arc > 0 ? std::sin(angle) / arc : 0;
    const Vec3 out =
        place.a * along * face_.frame.x + place.b * along * face_.frame.y + std::cos(angle) * face_.frame.z;
    return face_.frame.origin + face_.radius * out;
  }
  const Vec3 p = to_vec(surface_.Value(place.a * unit_u_, place.b * unit_v_));
  const std::array<const Face*, 1> on{&face_};
  return put_on(on, p);
}

double Chart::distance_near(ChartPoint near, Vec3 p) const {
  double u = near.a * unit_u_, v = near.b * unit_v_, off = 0;
  for (int step = 0; step < 3; ++step) {
    gp_Pnt at;
    gp_Vec gu, gv;
    surface_.D1(u, v, at, gu, gv);
    const Vec3 su = to_vec(gu.XYZ()), sv = to_vec(gv.XYZ()), to = p - to_vec(at), normal = cross(su, sv);
    off = std::fabs(dot(to, unit(normal)));
    const double scale = dot(normal, normal);
    u = std::clamp(u + dot(cross(to, sv), normal) / scale, surface_.FirstUParameter(), surface_.LastUParameter());
    v = std::clamp(v + dot(cross(su, to), normal) / scale, surface_.FirstVParameter(), surface_.LastVParameter());
  }
  return off;
}

bool Chart::same_turn(ChartPoint p, ChartPoint q) const {
  return (turn_u_ == 0 || std::fabs(p.a - q.a) < turn_u_ / 2) && (turn_v_ == 0 || std::fabs(p.b - q.b) < turn_v_ / 2);
}

std::vector<ChartPoint> Chart::grid(ChartPoint low, ChartPoint high) const {
  std::vector<ChartPoint> places;
  if (face_.kind != Surface::sphere && face_.kind != Surface::torus) return places;
  const int rows = static_cast<int>((high.b - low.b) / kRow) + 1;
  for (int row = 0; row <= rows; ++row) {
    const double b = low.b + (high.b - low.b) * row / rows;
    double step = 1;
    if (face_.kind == Surface::torus && !spline_) {
      // Round the axis, the surface curves by cos(v) / r: the points of a row may be further apart near the floor.
      const double v = b * unit_v_, r = face_.radius + face_.radius2 * std::cos(v);
      const double bent = (face_.radius + face_.radius2) * std::max(std::cos(v), 0.05);
      step = std::min(3.0, (face_.radius + face_.radius2) / std::sqrt(std::max(r * bent, 1e-12)));
    }
    for (double a = low.a + (row % 2 == 0 ? 0.25 : 0.75) * step; a < high.a; a += step) places.push_back({a, b});
  }
  return places;
}

bool Chart::counter_clockwise_from_void() const {
  gp_Pnt at;
  gp_Vec outward;
  const BRepGProp_Face normals(shape_);
  double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
  BRepTools::UVBounds(shape_, u0, u1, v0, v1);
  normals.Normal((u0 + u1) / 2, (v0 + v1) / 2, at, outward);
  if (seamless()) return dot(to_vec(outward.XYZ()), to_vec(at) - face_.frame.origin) > 0;
  gp_Pnt point;
  gp_Vec along_u, along_v;
  surface_.D1((u0 + u1) / 2, (v0 + v1) / 2, point, along_u, along_v);
  return along_u.Crossed(along_v).Dot(outward) > 0;
}

}  // namespace eyebrow
