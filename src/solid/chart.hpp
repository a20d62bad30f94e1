// A face spread out on a plane, scaled so that points one unit apart are about right for the deflection.
#pragma once
#include <BRepAdaptor_Surface.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Pnt2d.hxx>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow {

struct ChartPoint {
  double a = 0, b = 0;
};

/// A sphere is spread out from its pole (azimuthal, equidistant), so that neither seam nor pole shows; every other
/// surface by the modeller's own parameters, cut at the seam.
class Chart {
 public:
  Chart(const TopoDS_Face& shape, const Face& face, double deflection);

  bool seamless() const { return face_.kind == Surface::sphere; }
  /// `uv`: the modeller's parameters of the point (not used when seamless).
  ChartPoint place(Vec3 p, const gp_Pnt2d& uv) const;
  /// The exact point of the surface.
  Vec3 on_surface(ChartPoint place) const;
  /// Distance of `p` from the surface, its foot sought from `near` on.
  double distance_near(ChartPoint near, Vec3 p) const;
  /// False when two places of one vertex lie on two sides of the seam.
  bool same_turn(ChartPoint p, ChartPoint q) const;
  /// Places for points inside, for surfaces that curve both ways: staggered rows, a unit apart.
  std::vector<ChartPoint> grid(ChartPoint low, ChartPoint high) const;
  /// Whether counter-clockwise in the chart is counter-clockwise seen from the void.
  bool counter_clockwise_from_void() const;

 private:
  TopoDS_Face shape_;
  const Face& face_;
  BRepAdaptor_Surface surface_;
  bool spline_;                     // a known surface that the modeller has as a spline, whose parameters are no angles
  double unit_u_ = 1, unit_v_ = 1;  // parameters' change over one unit
  double turn_u_ = 0, turn_v_ = 0;  // period in units; 0 = none
};

}  // namespace eyebrow
