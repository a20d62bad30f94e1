#include "solid/face_mesh.hpp"

#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <set>

#include "solid/chart.hpp"
#include "solid/delaunay.hpp"
#include "solid/exact_surface.hpp"
#include "solid/occt.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kMostNodes = 300000;  // of one face: more means that refining does not help
constexpr int kPasses = 40;                 // of putting points where triangles are too far off
constexpr double kApart = 0.55;             // grid points keep this many spacings from all others

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
    if (triangulate_boundary()) {
      add_grid();
      refine();
    }
    if (coarse_.empty() && !mesh_.failed) emit();
    mesh_.too_coarse.assign(coarse_.begin(), coarse_.end());
    return std::move(mesh_);
  }

 private:
  struct Node {
    ChartPoint place;
    int id;      // into points_
    int vertex;  // of the topology; -1 = none
  };
  struct Segment {
    int from, to;
    ChainPiece piece;
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
        // Edges of a free-form face lie on their exact neighbour, and off this one by the modeller's tolerance.
        if (face_.kind == Surface::free_form) off_ = std::max(off_, chart_.distance_near(place, chain.points[i]));
        if (i > 0) segments_.push_back({from, node, {index, static_cast<int>(i) - 1}});
        from = node;
      }
    }
    shuffle();
  }

  /// Points that come in rows make each new one turn many edges; in random order only a few. Always the same order.
  void shuffle() {
    std::vector<int> order(nodes_.size());
    std::iota(order.begin(), order.end(), 0);
    std::uint64_t state = 1;
    for (std::size_t i = order.size(); i > 1; --i) {
      state = state * 6364136223846793005ULL + 1442695040888963407ULL;  // Knuth's MMIX generator
      std::swap(order[i - 1], order[(state >> 33) % i]);
    }
    std::vector<Node> shuffled;
    std::vector<int> place(nodes_.size());
    for (const int old : order) {
      place[at(old)] = static_cast<int>(shuffled.size());
      shuffled.push_back(nodes_[at(old)]);
    }
    nodes_ = std::move(shuffled);
    for (Segment& s : segments_) s.from = place[at(s.from)], s.to = place[at(s.to)];
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

    // Two points in one place of the grid, or two chords that cross: the pieces there are too long.
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      if (const int got = plane_.add(to_grid(nodes_[i].place)); got != static_cast<int>(i)) {
        for (const Segment& s : segments_) {
          if (touches(s, static_cast<int>(i)) || touches(s, got)) coarse_.insert(s.piece);
        }
        return false;
      }
    }
    for (const Segment& s : segments_) {
      if (plane_.constrain(s.from, s.to)) continue;
      coarse_.insert(s.piece);
      note(plane_.blocked_by().first, plane_.blocked_by().second);
    }
    if (!coarse_.empty()) return false;
    mesh_.failed = !plane_.mark_inside();
    return !mesh_.failed;
  }

  static bool touches(const Segment& s, int node) { return s.from == node || s.to == node; }

  /// Asks for the boundary piece between two nodes to be halved.
  void note(int i, int j) {
    for (const Segment& s : segments_) {
      if (s.from + s.to == i + j && touches(s, i) && touches(s, j)) coarse_.insert(s.piece);
    }
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
    return face_.kind == Surface::free_form ? chart_.distance_near(between(i, j), middle)
                                            : std::fabs(off_surface(face_, middle));
  }

  ChartPoint between(int i, int j) const {
    const ChartPoint &p = nodes_[at(i)].place, &q = nodes_[at(j)].place;
    return {(p.a + q.a) / 2, (p.b + q.b) / 2};
  }

  bool shrunk(const Delaunay::Triangle& t) const {
    const int a = nodes_[at(t.vertex[0])].id, b = nodes_[at(t.vertex[1])].id, c = nodes_[at(t.vertex[2])].id;
    return a == b || b == c || c == a;
  }

  /// Puts points inside until each triangle is near enough; where the chord of a boundary edge is what is too far off,
  /// asks for that to be halved.
  void refine() {
    if (face_.kind == Surface::plane) return;
    for (int pass = 0; pass < kPasses; ++pass) {
      const std::size_t before = nodes_.size();
      mesh_.error = 0;
      for (const Delaunay::Triangle& t : plane_.inside()) {
        if (shrunk(t)) continue;
        std::array<double, 3> off{};
        for (int e = 0; e < 3; ++e) off[at(e)] = off_at_middle(t.vertex[at((e + 1) % 3)], t.vertex[at((e + 2) % 3)]);
        const double error = kErrorMargin * bound_from_middles(off[0], off[1], off[2]) + off_;
        mesh_.error = std::max(mesh_.error, error);
        if (error <= deflection_) continue;
        const int e = static_cast<int>(std::max_element(off.begin(), off.end()) - off.begin());
        const int i = t.vertex[at((e + 1) % 3)], j = t.vertex[at((e + 2) % 3)];
        if (t.fixed[at(e)]) {
          note(i, j);
        } else {
          new_node(between(i, j), 0);
        }
      }
      if (mesh_.error <= deflection_ || !coarse_.empty()) return;
      if (nodes_.size() == before || nodes_.size() > kMostNodes) break;
    }
    mesh_.failed = true;
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
  double off_ = 0;  // of the boundary's points
  std::set<ChainPiece> coarse_;
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
