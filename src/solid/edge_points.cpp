#include "solid/edge_points.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>

#include "solid/exact_surface.hpp"
#include "solid/occt.hpp"

namespace eyebrow {
namespace {

constexpr int kProbes = 160;       // places where an edge's curvature is looked at
constexpr int kMostHalvings = 12;  // of one chord, should the curvature between two probes have been missed
constexpr int kLeastRound = 8;     // pieces of an edge that closes on itself

/// An edge's curve, corrected onto its faces' exact surfaces.
class ExactCurve {
 public:
  ExactCurve(const EdgeChain& chain, const std::vector<Face>& faces) : curve_(chain.edge) {
    if (chain.place == EdgePlace::as_it_is) return;
    for (const int face : chain.faces) on_.push_back(&faces[static_cast<std::size_t>(face)]);
    if (chain.faces[0] == chain.faces[1]) on_.pop_back();
  }
  double first() const { return curve_.FirstParameter(); }
  double last() const { return curve_.LastParameter(); }
  Vec3 operator()(double t) const { return put_on(on_, to_vec(curve_.Value(t))); }

 private:
  BRepAdaptor_Curve curve_;
  std::vector<const Face*> on_;
};

/// Curvature of the circle through three points (Menger).
double curvature(Vec3 a, Vec3 b, Vec3 c) {
  const double sides = norm(b - a) * norm(c - b) * norm(c - a);
  return sides > 0 ? 2 * norm(cross(b - a, c - b)) / sides : 0.0;
}

double from_chord(Vec3 p, Vec3 a, Vec3 b) {
  const double length = norm(b - a);
  return length > 0 ? norm(cross(p - a, b - a)) / length : norm(p - a);
}

/// Parameters such that each piece has about the same sag, no more than asked: a chord of length s on curvature k sags
/// by k s^2 / 8, so the pieces' number is the integral of sqrt(k / (8 sag)) along the edge.
std::vector<double> even_parameters(const ExactCurve& curve, const std::vector<Vec3>& probes, double sag, bool round) {
  std::vector<double> pieces(probes.size(), 0);
  for (std::size_t i = 1; i < probes.size(); ++i) {
    const std::size_t mid = std::clamp(i, std::size_t{1}, probes.size() - 2);
    const double k =
        std::max(curvature(probes[mid - 1], probes[mid], probes[mid + 1]),
                 curvature(probes[std::max<std::size_t>(mid, 2) - 2], probes[std::max<std::size_t>(mid, 2) - 1],
                           probes[std::max<std::size_t>(mid, 2)]));
    pieces[i] = pieces[i - 1] + std::sqrt(k / (8 * sag)) * norm(probes[i] - probes[i - 1]);
  }
  const double total = pieces.back();
  const int n = std::max({1, round ? kLeastRound : 1, static_cast<int>(std::ceil(total))});
  const double step = (curve.last() - curve.first()) / kProbes;
  std::vector<double> parameters{curve.first()};
  std::size_t i = 1;
  for (int piece = 1; piece < n; ++piece) {
    double t = curve.first() + (curve.last() - curve.first()) * piece / n;
    if (total > 1e-6) {  // a straight edge is divided evenly
      const double wanted = total * piece / n;
      while (i + 1 < pieces.size() && pieces[i] < wanted) ++i;
      const double span = pieces[i] - pieces[i - 1];
      t = curve.first() + step * (static_cast<double>(i - 1) + (span > 0 ? (wanted - pieces[i - 1]) / span : 0.5));
    }
    if (t > parameters.back() && t < curve.last()) parameters.push_back(t);
  }
  parameters.push_back(curve.last());
  return parameters;
}

}  // namespace

Topology take_apart(const TopoDS_Shape& solid, const std::vector<Face>& faces, EdgePlace place) {
  Topology topology;
  for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next()) topology.faces.Add(each.Current());
  TopExp::MapShapes(solid, TopAbs_EDGE, topology.edges);
  TopExp::MapShapes(solid, TopAbs_VERTEX, topology.vertices);

  TopTools_IndexedDataMapOfShapeListOfShape faces_of;
  TopExp::MapShapesAndUniqueAncestors(solid, TopAbs_VERTEX, TopAbs_FACE, faces_of);
  for (int i = 1; i <= topology.vertices.Extent(); ++i) {
    const TopoDS_Vertex vertex = TopoDS::Vertex(topology.vertices(i));
    std::vector<const Face*> around;
    for (const TopoDS_Shape& face : faces_of.FindFromKey(vertex)) {
      if (place == EdgePlace::exact)
        around.push_back(&faces[static_cast<std::size_t>(topology.faces.FindIndex(face) - 1)]);
    }
    topology.vertex_points.push_back(put_on(around, to_vec(BRep_Tool::Pnt(vertex))));
  }

  faces_of.Clear();
  TopExp::MapShapesAndUniqueAncestors(solid, TopAbs_EDGE, TopAbs_FACE, faces_of);
  for (int i = 1; i <= topology.edges.Extent(); ++i) {
    EdgeChain chain;
    chain.place = place;
    chain.edge = TopoDS::Edge(topology.edges(i).Oriented(TopAbs_FORWARD));
    chain.degenerate = BRep_Tool::Degenerated(chain.edge);
    const TopTools_ListOfShape& neighbours = faces_of.FindFromKey(chain.edge);
    chain.faces = {topology.faces.FindIndex(neighbours.First()) - 1, topology.faces.FindIndex(neighbours.Last()) - 1};
    chain.first_vertex = topology.vertices.FindIndex(TopExp::FirstVertex(chain.edge)) - 1;
    chain.last_vertex = topology.vertices.FindIndex(TopExp::LastVertex(chain.edge)) - 1;
    topology.chains.push_back(std::move(chain));
  }
  return topology;
}

void divide(EdgeChain& chain, const Topology& topology, const std::vector<Face>& faces, double sag) {
  const Vec3 from = topology.vertex_points[static_cast<std::size_t>(chain.first_vertex)];
  const Vec3 to = topology.vertex_points[static_cast<std::size_t>(chain.last_vertex)];
  chain.points = {from, to};
  chain.sag = 0;
  if (chain.degenerate) {
    double first = 0, last = 0;
    BRep_Tool::Range(chain.edge, first, last);
    chain.parameter = {first, last};
    return;
  }
  const ExactCurve curve(chain, faces);
  const double step = (curve.last() - curve.first()) / kProbes;
  std::vector<Vec3> probes{from};
  for (int i = 1; i < kProbes; ++i) probes.push_back(curve(curve.first() + i * step));
  probes.push_back(to);
  const std::vector<double> parameters = even_parameters(curve, probes, sag, chain.first_vertex == chain.last_vertex);

  struct Piece {
    double from, to;
    Vec3 a, b;
    int halvings;
  };
  chain.parameter = {parameters.front()};
  chain.points = {from};
  for (std::size_t i = 1; i < parameters.size(); ++i) {
    const bool last = i + 1 == parameters.size();
    std::vector<Piece> open{
        {parameters[i - 1], parameters[i], chain.points.back(), last ? to : curve(parameters[i]), 0}};
    while (!open.empty()) {
      const Piece piece = open.back();
      open.pop_back();
      const double middle = (piece.from + piece.to) / 2;
      const Vec3 at = curve(middle);
      const double off = from_chord(at, piece.a, piece.b);
      if (off > sag && piece.halvings < kMostHalvings) {
        open.push_back({middle, piece.to, at, piece.b, piece.halvings + 1});
        open.push_back({piece.from, middle, piece.a, at, piece.halvings + 1});
        continue;
      }
      chain.sag = std::max(chain.sag, off);
      chain.parameter.push_back(piece.to);
      chain.points.push_back(piece.b);
    }
  }
}

void halve(EdgeChain& chain, const std::vector<Face>& faces, const std::set<int>& pieces) {
  if (chain.degenerate) return;
  const ExactCurve curve(chain, faces);
  EdgeChain finer = chain;
  finer.parameter.clear();
  finer.points.clear();
  for (std::size_t i = 0; i < chain.points.size(); ++i) {
    finer.parameter.push_back(chain.parameter[i]);
    finer.points.push_back(chain.points[i]);
    if (i + 1 == chain.points.size() || !pieces.contains(static_cast<int>(i))) continue;
    const double middle = (chain.parameter[i] + chain.parameter[i + 1]) / 2;
    finer.parameter.push_back(middle);
    finer.points.push_back(curve(middle));
  }
  chain = std::move(finer);
}

}  // namespace eyebrow
