#include "edge_search.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr double kPieceAngle = kPi / 20;  // half an angle of a piece
constexpr double kPieceLength = 6;        // mm, half the length of a straight one
constexpr int kMostDepth = 40;            // halvings of a piece: far below rounding

/// The valve's distance at a point with its gradient.
struct Sample {
  double value, dr, dw, r;
};

Sample sample(const ConvexOutline& valve, Vec3 q) {
  Sample s{};
  s.r = std::sqrt(q.x * q.x + q.y * q.y);
  s.value = valve.eval(s.r, q.z, s.dr, s.dw);
  return s;
}

}  // namespace

void EdgeSet::add(const Arc& arc, int face) {
  Curve curve{arc, 0, 0, face};
  if (!arc.straight) {
    const double d = 0.5 * (dot_xy(arc.a, arc.a) - dot_xy(arc.b, arc.b)), ab = dot_xy(arc.a, arc.b);
    curve.third_square = 8 * diagonal(d, ab);
    curve.third_w = diagonal(arc.a.z, arc.b.z);
  }
  curves_.push_back(curve);
  const int index = static_cast<int>(curves_.size()) - 1;
  const int count = std::max(1, static_cast<int>(std::ceil(arc.half / (arc.straight ? kPieceLength : kPieceAngle))));
  const double half = arc.half / count;
  for (int i = 0; i < count; ++i) pieces_.push_back(piece_of(index, -arc.half + (2 * i + 1) * half, half));
}

EdgeSet::Piece EdgeSet::piece_of(int curve, double middle, double half) const {
  const Arc& arc = curves_[static_cast<std::size_t>(curve)].arc;
  Piece piece{curve, middle, half, arc.at(middle), arc.b, {}, half};
  if (arc.straight) return piece;
  piece.tangent = std::cos(middle) * arc.b - std::sin(middle) * arc.a;
  piece.normal = arc.centre - piece.at;
  piece.radius = half * norm(arc.a);
  return piece;
}

void EdgeSet::finish() {
  nodes_.clear();
  if (!pieces_.empty()) build(0, static_cast<int>(pieces_.size()));
}

int EdgeSet::build(int first, int count) {
  Vec3 low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
  for (int i = first; i < first + count; ++i) {
    const Piece& p = pieces_[static_cast<std::size_t>(i)];
    const Arc& arc = curves_[static_cast<std::size_t>(p.curve)].arc;
    // The ends, and as much to every side as the piece stands off its chord.
    const double sag = arc.straight ? 0 : norm(arc.a) * (1 - std::cos(p.half));
    for (const double t : {p.middle - p.half, p.middle + p.half}) {
      const Vec3 end = arc.at(t);
      low = {std::min(low.x, end.x - sag), std::min(low.y, end.y - sag), std::min(low.z, end.z - sag)};
      high = {std::max(high.x, end.x + sag), std::max(high.y, end.y + sag), std::max(high.z, end.z + sag)};
    }
  }
  Node node;
  node.centre = 0.5 * (low + high);
  node.half = 0.5 * (high - low);
  node.radius = norm(node.half);
  const int id = static_cast<int>(nodes_.size());
  nodes_.push_back(node);
  if (count == 1) {
    nodes_[static_cast<std::size_t>(id)].piece = first;
    return id;
  }
  const Vec3 size = high - low;
  const auto along = [&](const Piece& p) {
    return size.x >= size.y && size.x >= size.z ? p.at.x : size.y >= size.z ? p.at.y : p.at.z;
  };
  std::stable_sort(pieces_.begin() + first, pieces_.begin() + first + count,
                   [&](const Piece& a, const Piece& b) { return along(a) < along(b); });
  const int left = build(first, count / 2), right = build(first + count / 2, count - count / 2);
  nodes_[static_cast<std::size_t>(id)].left = left;
  nodes_[static_cast<std::size_t>(id)].right = right;
  return id;
}

struct EdgeSet::Query {
  const EdgeSet& edges;
  const ConvexOutline& valve;
  Vec3 centre;
  Nearest& best;

  void take(double value, Vec3 q, int curve) const {
    if (value >= best.value) return;
    best.value = value;
    best.point = q;
    best.face = edges.curves_[static_cast<std::size_t>(curve)].face;
  }

  /// A convex distance lies above its tangent plane: over a box, or the ball around it.
  double bound(const Node& node) const {
    const Vec3 q = node.centre - centre;
    const Sample s = sample(valve, q);
    const double k = s.r > 1e-12 ? s.dr / s.r : 0;
    const double box =
        std::fabs(k * q.x) * node.half.x + std::fabs(k * q.y) * node.half.y + std::fabs(s.dw) * node.half.z;
    return s.value - std::min(node.radius, box);
  }

  void open(int index) const {
    const Node& node = edges.nodes_[static_cast<std::size_t>(index)];
    if (node.piece >= 0) return piece(edges.pieces_[static_cast<std::size_t>(node.piece)], 0);
    int child[2] = {node.left, node.right};
    double low[2] = {bound(edges.nodes_[static_cast<std::size_t>(child[0])]),
                     bound(edges.nodes_[static_cast<std::size_t>(child[1])])};
    if (low[1] < low[0]) {
      std::swap(low[0], low[1]);
      std::swap(child[0], child[1]);
    }
    for (const int k : {0, 1})
      if (low[k] < best.value - kEdgeSearch) open(child[k]);
  }

  /// Along an arc r^2 and w are known to the third order in the parameter, and a convex distance that does not fall
  /// with r is at least F + F_r (dQ / 2r - dQ^2 / 2r^3) + F_w dw with Q = r^2, as sqrt(1 + u) >= 1 + u/2 - u^2/2.
  void piece(const Piece& p, int depth) const {
    const Curve& curve = edges.curves_[static_cast<std::size_t>(p.curve)];
    const Vec3 q = p.at - centre;
    const Sample s = sample(valve, q);
    take(s.value, q, p.curve);
    const double ball = s.value - p.radius;
    if (ball >= best.value - kEdgeSearch) return;
    double low = ball, least_at = 0;
    if (s.r > 1e-3) {
      const double h = p.half, q1 = 2 * dot_xy(q, p.tangent),
                   q2 = 2 * (dot_xy(p.tangent, p.tangent) + dot_xy(q, p.normal));
      double q3 = 0, c3 = 0;
      if (!curve.arc.straight) {
        const Vec3 off = curve.arc.centre - centre;
        q3 = 2 * diagonal(dot_xy(off, curve.arc.a), dot_xy(off, curve.arc.b)) + curve.third_square;
        c3 = s.dr * q3 / (2 * s.r) + std::fabs(s.dw) * curve.third_w;
      }
      const double c1 = s.dr * q1 / (2 * s.r) + s.dw * p.tangent.z, c2 = s.dr * q2 / (2 * s.r) + s.dw * p.normal.z;
      const double dq = std::fabs(q1) * h + 0.5 * std::fabs(q2) * h * h + q3 * h * h * h / 6;
      double least = 0;
      if (c2 > 0 && std::fabs(c1) < c2 * h) {
        least_at = -c1 / c2;
        least = -0.5 * c1 * c1 / c2;
      } else {
        least_at = c1 > 0 ? -h : h;
        least = -std::fabs(c1) * h + 0.5 * c2 * h * h;
      }
      low = std::max(low, s.value + least - c3 * h * h * h / 6 - s.dr * dq * dq / (2 * s.r * s.r * s.r));
    }
    if (low >= best.value - kEdgeSearch) return;
    const Vec3 there = curve.arc.at(p.middle + least_at) - centre;
    take(sample(valve, there).value, there, p.curve);
    if (low >= best.value - kEdgeSearch || depth >= kMostDepth) return;
    const double half = p.half / 2, first = least_at < 0 ? -half : half;
    piece(edges.piece_of(p.curve, p.middle + first, half), depth + 1);
    piece(edges.piece_of(p.curve, p.middle - first, half), depth + 1);
  }
};

void EdgeSet::search(const ConvexOutline& valve, Vec3 centre, Nearest& best) const {
  if (nodes_.empty()) return;
  const Query query{*this, valve, centre, best};
  if (query.bound(nodes_[0]) < best.value - kEdgeSearch) query.open(0);
}

}  // namespace eyebrow::gap
