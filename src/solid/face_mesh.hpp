// Triangles of one face, on the points of its edges, with a bound on their distance from the exact surface.
#pragma once
#include <TopoDS_Face.hxx>
#include <compare>
#include <vector>

#include "solid/edge_points.hpp"

namespace eyebrow {

/// A piece of an edge's chain: from its point `piece` to the next.
struct ChainPiece {
  int edge = 0, piece = 0;
  auto operator<=>(const ChainPiece&) const = default;
};

struct FaceMesh {
  std::vector<std::array<int, 3>> triangles;  ///< ids of points, counter-clockwise seen from the void
  double error = 0;                           ///< no point of the surface is further from its triangle, nor the reverse
  bool failed = false;                        ///< no finer edges would help
  std::vector<ChainPiece> too_coarse;         ///< not empty: these must be halved, and nothing else here is valid
};

/// `own` takes the points inside the face, which get the ids from points.size() on.
FaceMesh mesh_face(const TopoDS_Face& shape, int index, const std::vector<Face>& faces, const Topology& topology,
                   double deflection, std::vector<Vec3>& points);

/// Bound on |distance| inside a triangle with corners on a surface, from the distances at the middles of its edges, to
/// second order. There the distance is half the product of the two distances to the ends in the metric of the surface's
/// curvature, so it is greatest at the centre of the smallest circle around the triangle in that metric.
double bound_from_middles(double a, double b, double c);

}  // namespace eyebrow
