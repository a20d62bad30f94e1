// The edges of a solid as chains of points, on the exact surfaces of both neighbours.
#pragma once
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shape.hxx>
#include <array>
#include <set>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow {

/// Where an edge is: where the surfaces of its two faces meet, or where the modeller has it, as they do not.
enum class EdgePlace { exact, as_it_is };

struct EdgeChain {
  TopoDS_Edge edge;
  EdgePlace place = EdgePlace::exact;
  std::array<int, 2> faces{-1, -1};  ///< the same twice on a seam
  bool degenerate = false;           ///< shrunk to a point (a cone's apex, a sphere's pole)
  int first_vertex = 0, last_vertex = 0;
  std::vector<double> parameter;  ///< of each point on the edge's curve
  std::vector<Vec3> points;       ///< from first to last vertex
  std::vector<int> ids;           ///< of each point, into the solid's points
  double sag = 0;                 ///< greatest distance of curve and chords
};

/// A solid taken apart: faces in their order, vertices and edges numbered once.
struct Topology {
  TopTools_IndexedMapOfShape faces, edges, vertices;
  std::vector<Vec3> vertex_points;  ///< placed as the edges are
  std::vector<EdgeChain> chains;    ///< one an edge, no points yet
};

Topology take_apart(const TopoDS_Shape& solid, const std::vector<Face>& faces, EdgePlace place);

/// Places points along an edge so that no chord is further than `sag` from the curve.
void divide(EdgeChain& chain, const Topology& topology, const std::vector<Face>& faces, double sag);

/// Halves some of its pieces (piece i runs from point i to point i + 1).
void halve(EdgeChain& chain, const std::vector<Face>& faces, const std::set<int>& pieces);

}  // namespace eyebrow
