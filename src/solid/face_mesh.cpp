#include "solid/face_mesh.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp_Face.hxx>
#include <BRep_Tool.hxx>
#include <ElSLib.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "solid/chart.hpp"
#include "solid/delaunay.hpp"
#include "solid/exact_surface.hpp"
#include "solid/occt.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

constexpr int kPasses = 24;      // of putting points where triangles are too far off
constexpr double kApart = 0.55;  // grid points keep this many spacings from all others

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class Mesher {
 public:
  Mesher(const TopoDS_Face& shape, int index, const std::vector<Face>& faces, const Topology& topology,
         double deflection, std::vector<Vec3>& points)
      : shape_(shape),
        face_(faces[at(index)]),
        topology_(topology),
        deflection_(deflection),
        points_(points),
        chart_(shape, face_, deflection) {}

  FaceMesh mesh() {
    gather_boundary();
    if (!triangulate_boundary()) return std::move(mesh_);
    add_grid();
    refine();
    if (mesh_.too_coarse.empty()) emit();
    return std::move(mesh_);
  }

 private:
  struct Node {
    ChartPoint place;
    int id;      // into points_
    int vertex;  // of the topology; -1 = none
  };
  struct Segment {
    int from, to, edge;
  };

  int node_at_vertex(ChartPoint place, int vertex) {
    for (const int other : at_vertex_[vertex]) {
      if (chart_.same_turn(nodes_[at(other)].place, place)) return other;
    }
    at_vertex_[vertex].push_back(static_cast<int>(nodes_.size()));
    nodes_.push_back({place, vertex, vertex});
    return static_cast<int>(nodes_.size()) - 1;
  }

  /// The face's edges in the chart. A seam comes twice, once on each side.
  void gather_boundary() {
    for (TopExp_Explorer each(shape_, TopAbs_EDGE); each.More(); each.Next()) {
      const TopoDS_Edge edge = TopoDS::Edge(each.Current());
      const int index = topology_.edges.FindIndex(edge) - 1;
      const EdgeChain& chain = topology_.chains[at(index)];
      if (chart_.seamless() && (chain.degenerate || chain.faces[0] == chain.faces[1])) continue;
      double first = 0, last = 0;
      const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, shape_, first, last);
      int from = -1;
      for (std::size_t i = 0; i < chain.points.size(); ++i) {
        const gp_Pnt2d uv = chart_.seamless() || curve.IsNull() ? gp_Pnt2d() : curve->Value(chain.parameter[i]);
        const ChartPoint place = chart_.place(chain.points[i], uv);
        int node = static_cast<int>(nodes_.size());
        if (i == 0 || i + 1 == chain.points.size()) {
          node = node_at_vertex(place, i == 0 ? chain.first_vertex : chain.last_vertex);
        } else {
          nodes_.push_back({place, chain.ids[i], -1});
        }
        if (i > 0) segments_.push_back({from, node, index});
        from = node;
      }
    }
  }

  bool triangulate_boundary() {
    double low_a = 1e300, low_b = 1e300, high_a = -1e300, high_b = -1e300;
    for (const Node& node : nodes_) {
      low_a = std::min(low_a, node.place.a), high_a = std::max(high_a, node.place.a);
      low_b = std::min(low_b, node.place.b), high_b = std::max(high_b, node.place.b);
    }
    middle_ = {(low_a + high_a) / 2, (low_b + high_b) / 2};
    const double half = std::max({high_a - low_a, high_b - low_b, 1e-9}) / 2;
    scale_ = 0.9 * static_cast<double>(Delaunay::kReach) / half;

    std::set<int> coarse;
    std::vector<int> owner(nodes_.size(), -1);  // an edge that each node lies on
    for (const Segment& s : segments_) owner[at(s.from)] = owner[at(s.to)] = s.edge;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      // Two points in one place of the grid: both edges are asked for other points.
      if (const int got = plane_.add(to_grid(nodes_[i].place)); got != static_cast<int>(i)) {
        coarse.insert({owner[i], owner[at(got)]});
        break;
      }
    }
    if (coarse.empty()) {
      for (const Segment& s : segments_) {
        if (!plane_.constrain(s.from, s.to)) coarse.insert(s.edge);
      }
      if (coarse.empty() && !plane_.mark_inside()) {
        for (const Segment& s : segments_) coarse.insert(s.edge);
      }
    }
    mesh_.too_coarse.assign(coarse.begin(), coarse.end());
    return coarse.empty();
  }

  GridPoint to_grid(ChartPoint p) const {
    return {std::llround((p.a - middle_.a) * scale_), std::llround((p.b - middle_.b) * scale_)};
  }

  void new_node(ChartPoint place, double apart) {
    const double limit = apart * scale_;
    if (plane_.add_inside(to_grid(place), limit * limit) < 0) return;
    nodes_.push_back({place, static_cast<int>(points_.size()), -1});
    points_.push_back(chart_.on_surface(place));
  }

  void add_grid() {
    ChartPoint low = middle_, high = middle_;
    for (const Node& node : nodes_) {
      low = {std::min(low.a, node.place.a), std::min(low.b, node.place.b)};
      high = {std::max(high.a, node.place.a), std::max(high.b, node.place.b)};
    }
    for (const ChartPoint& place : chart_.grid(low, high)) new_node(place, kApart);
  }

  Vec3 point(int node) const { return points_[at(nodes_[at(node)].id)]; }

  /// Distance of the surface from the middle of a chord between two nodes.
  double off_at_middle(int i, int j) const {
    const Vec3 middle = 0.5 * (point(i) + point(j));
    if (face_.kind != Surface::free_form) return std::fabs(off_surface(face_, middle));
    return norm(chart_.on_surface(between(i, j)) - middle);  // no closed form: at most this
  }

  ChartPoint between(int i, int j) const {
    const ChartPoint &p = nodes_[at(i)].place, &q = nodes_[at(j)].place;
    return {(p.a + q.a) / 2, (p.b + q.b) / 2};
  }

  bool shrunk(const Delaunay::Triangle& t) const {
    const int a = nodes_[at(t.vertex[0])].id, b = nodes_[at(t.vertex[1])].id, c = nodes_[at(t.vertex[2])].id;
    return a == b || b == c || c == a;
  }

  /// Puts points inside until each triangle is near enough. Where only boundary edges could be cut, asks for that.
  void refine() {
    if (face_.kind == Surface::plane) return;
    std::set<int> coarse;
    for (int pass = 0; pass < kPasses; ++pass) {
      mesh_.error = 0;
      bool added = false;
      coarse.clear();
      for (const Delaunay::Triangle& t : plane_.inside()) {
        if (shrunk(t)) continue;
        std::array<double, 3> off{};
        for (int e = 0; e < 3; ++e) off[at(e)] = off_at_middle(t.vertex[at((e + 1) % 3)], t.vertex[at((e + 2) % 3)]);
        const double error = kErrorMargin * bound_from_middles(off[0], off[1], off[2]);
        mesh_.error = std::max(mesh_.error, error);
        if (error <= deflection_) continue;
        std::array<int, 3> order{0, 1, 2};
        std::sort(order.begin(), order.end(), [&](int x, int y) { return off[at(x)] > off[at(y)]; });
        const auto longest = std::find_if(order.begin(), order.end(), [&](int e) { return !t.fixed[at(e)]; });
        const std::size_t before = nodes_.size();
        if (longest != order.end())
          new_node(between(t.vertex[at((*longest + 1) % 3)], t.vertex[at((*longest + 2) % 3)]), 0);
        added = added || nodes_.size() > before;
        if (t.fixed[at(order[0])]) note_edges(t, order[0], coarse);
      }
      if (mesh_.error <= deflection_) return;
      if (!added) break;
    }
    if (coarse.empty()) {
      for (const Segment& s : segments_) coarse.insert(s.edge);
    }
    mesh_.too_coarse.assign(coarse.begin(), coarse.end());
  }

  void note_edges(const Delaunay::Triangle& t, int e, std::set<int>& coarse) const {
    const int i = t.vertex[at((e + 1) % 3)], j = t.vertex[at((e + 2) % 3)];
    for (const Segment& s : segments_) {
      if ((s.from == i && s.to == j) || (s.from == j && s.to == i)) coarse.insert(s.edge);
    }
  }

  void emit() {
    const bool reversed = !chart_.counter_clockwise_from_void();
    for (const Delaunay::Triangle& t : plane_.inside()) {
      if (shrunk(t)) continue;
      std::array<int, 3> ids{nodes_[at(t.vertex[0])].id, nodes_[at(t.vertex[1])].id, nodes_[at(t.vertex[2])].id};
      if (reversed) std::swap(ids[1], ids[2]);
      mesh_.triangles.push_back(ids);
    }
  }

  TopoDS_Face shape_;
  const Face& face_;
  const Topology& topology_;
  double deflection_;
  std::vector<Vec3>& points_;
  Chart chart_;
  std::vector<Node> nodes_;
  std::vector<Segment> segments_;
  std::map<int, std::vector<int>> at_vertex_;
  Delaunay plane_;
  ChartPoint middle_;
  double scale_ = 1;
  FaceMesh mesh_;
};

}  // namespace

double bound_from_middles(double a, double b, double c) {
  const double most = std::max({a, b, c});
  if (2 * most >= a + b + c) return most;  // right or obtuse in that metric: the middle of the longest edge
  const double d = 2 * (a * b + b * c + c * a) - (a * a + b * b + c * c);
  return std::max(most, 4 * a * b * c / d);  // half the square of the radius around it; an edge of length l has l^2 / 8
}

FaceMesh mesh_face(const TopoDS_Face& shape, int index, const std::vector<Face>& faces, const Topology& topology,
                   double deflection, std::vector<Vec3>& points) {
  return Mesher(shape, index, faces, topology, deflection, points).mesh();
}

}  // namespace eyebrow
