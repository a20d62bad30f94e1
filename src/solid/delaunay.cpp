#include "solid/delaunay.hpp"

#include <algorithm>
#include <deque>

namespace eyebrow {
namespace {

__extension__ using Wide = __int128;

int sign(Wide value) {
  return (value > 0) - (value < 0);
}

constexpr int after(int i) {
  return (i + 1) % 3;
}
constexpr int before(int i) {
  return (i + 2) % 3;
}

constexpr int kFrame = 4;  // vertices 0 ... 3 are the frame around everything

}  // namespace

Delaunay::Delaunay() : near_(kBuckets * kBuckets, -1) {
  constexpr std::int64_t far = 2 * kReach;
  point_ = {{-far, -far}, {far, -far}, {far, far}, {-far, far}};
  any_cell_ = {0, 0, 0, 1};
  cell_.resize(2);
  put(0, {0, 1, 2}, {-1, 1, -1}, {}, false);
  put(1, {0, 2, 3}, {-1, -1, 0}, {}, false);
}

int Delaunay::orient(int a, int b, GridPoint p) const {
  const GridPoint &pa = point_[at(a)], &pb = point_[at(b)];
  return sign(Wide{pb.x - pa.x} * (p.y - pa.y) - Wide{pb.y - pa.y} * (p.x - pa.x));
}

bool Delaunay::in_circle(int a, int b, int c, int d) const {
  const GridPoint& o = point_[at(d)];
  const auto from = [&](int v) { return GridPoint{point_[at(v)].x - o.x, point_[at(v)].y - o.y}; };
  const GridPoint p = from(a), q = from(b), r = from(c);
  const auto square = [](GridPoint g) { return Wide{g.x} * g.x + Wide{g.y} * g.y; };
  const auto area = [](GridPoint g, GridPoint h) { return Wide{g.x} * h.y - Wide{g.y} * h.x; };
  return square(p) * area(q, r) - square(q) * area(p, r) + square(r) * area(p, q) > 0;
}

int Delaunay::index_of(int t, int vertex) const {
  const auto& v = cell(t).vertex;
  return v[0] == vertex ? 0 : v[1] == vertex ? 1 : 2;
}

int Delaunay::index_of_neighbour(int t, int neighbour) const {
  const auto& n = cell(t).next;
  return n[0] == neighbour ? 0 : n[1] == neighbour ? 1 : 2;
}

void Delaunay::put(int t, std::array<int, 3> vertex, std::array<int, 3> next, std::array<bool, 3> fixed, bool inside) {
  cell(t) = {vertex, next, fixed, inside};
  for (const int v : vertex) any_cell_[at(v)] = t;
}

/// Cell t's neighbour `from` has become `to`.
void Delaunay::relink(int t, int from, int to) {
  if (t >= 0) cell(t).next[at(index_of_neighbour(t, from))] = to;
}

int& Delaunay::near(GridPoint p) {
  const auto place = [](std::int64_t a) {
    return static_cast<int>(std::clamp<std::int64_t>((a + kReach) * kBuckets / (2 * kReach), 0, kBuckets - 1));
  };
  return near_[at(place(p.y) * kBuckets + place(p.x))];
}

/// Walks from the last cell, or from a vertex nearby: flips may have carried the last cell off, and along a boundary
/// that is still being put in the walk goes through one sliver after another.
int Delaunay::locate(GridPoint p) {
  if (const int v = near(p); v >= 0) last_ = any_cell_[at(v)];
  const std::size_t most = cell_.size() + 8;
  for (std::size_t steps = 0; steps < most; ++steps) {
    int to = -1;
    const Cell& c = cell(last_);
    for (int i = 0; i < 3 && to < 0; ++i) {
      // Turning the first edge looked at keeps the walk from going in circles where constraints spoil the order.
      const int e = (i + static_cast<int>(steps)) % 3;
      if (orient(c.vertex[at(after(e))], c.vertex[at(before(e))], p) < 0) to = c.next[at(e)];
    }
    if (to < 0) return last_;
    last_ = to;
  }
  for (int t = 0; t < static_cast<int>(cell_.size()); ++t) {
    const auto& v = cell(t).vertex;
    if (orient(v[0], v[1], p) >= 0 && orient(v[1], v[2], p) >= 0 && orient(v[2], v[0], p) >= 0) return last_ = t;
  }
  return last_;
}

int Delaunay::add(GridPoint p) {
  const int t = locate(p);
  for (const int v : cell(t).vertex) {
    if (point_[at(v)].x == p.x && point_[at(v)].y == p.y) return v - kFrame;
  }
  for (int e = 0; e < 3; ++e) {
    if (orient(cell(t).vertex[at(after(e))], cell(t).vertex[at(before(e))], p) == 0)
      return split_edge(t, e, p) - kFrame;
  }
  return split(t, p) - kFrame;
}

int Delaunay::add_inside(GridPoint p, double apart2) {
  const int t = locate(p);
  if (!cell(t).inside) return -1;
  for (const int v : cell(t).vertex) {
    const double dx = static_cast<double>(point_[at(v)].x - p.x), dy = static_cast<double>(point_[at(v)].y - p.y);
    if (dx * dx + dy * dy <= apart2) return -1;
  }
  for (int e = 0; e < 3; ++e) {
    const bool on = orient(cell(t).vertex[at(after(e))], cell(t).vertex[at(before(e))], p) == 0;
    if (on) return cell(t).fixed[at(e)] ? -1 : split_edge(t, e, p) - kFrame;
  }
  return split(t, p) - kFrame;
}

int Delaunay::split(int t, GridPoint p) {
  const Cell old = cell(t);
  const auto [a, b, c] = old.vertex;
  const int v = static_cast<int>(point_.size()), t1 = static_cast<int>(cell_.size()), t2 = t1 + 1;
  point_.push_back(p);
  any_cell_.push_back(t);
  near(p) = v;
  cell_.resize(cell_.size() + 2);
  put(t, {v, b, c}, {old.next[0], t1, t2}, {old.fixed[0], false, false}, old.inside);
  put(t1, {v, c, a}, {old.next[1], t2, t}, {old.fixed[1], false, false}, old.inside);
  put(t2, {v, a, b}, {old.next[2], t, t1}, {old.fixed[2], false, false}, old.inside);
  relink(old.next[1], t, t1);
  relink(old.next[2], t, t2);
  settle({{b, c}, {c, a}, {a, b}});
  return v;
}

int Delaunay::split_edge(int t, int edge, GridPoint p) {
  const Cell old = cell(t);
  const int u = old.next[at(edge)];
  const Cell over = cell(u);
  const int f = index_of_neighbour(u, t);
  const int a = old.vertex[at(edge)], b = old.vertex[at(after(edge))], c = old.vertex[at(before(edge))];
  const int d = over.vertex[at(f)];
  const int v = static_cast<int>(point_.size()), t2 = static_cast<int>(cell_.size()), u2 = t2 + 1;
  point_.push_back(p);
  any_cell_.push_back(t);
  near(p) = v;
  cell_.resize(cell_.size() + 2);
  // t was (a, b, c), u was (d, c, b).
  const int ca = old.next[at(after(edge))], ab = old.next[at(before(edge))];
  const int bd = over.next[at(after(f))], dc = over.next[at(before(f))];
  put(t, {v, a, b}, {ab, u2, t2}, {old.fixed[at(before(edge))], false, false}, old.inside);
  put(t2, {v, c, a}, {ca, t, u}, {old.fixed[at(after(edge))], false, false}, old.inside);
  put(u, {v, d, c}, {dc, t2, u2}, {over.fixed[at(before(f))], false, false}, over.inside);
  put(u2, {v, b, d}, {bd, u, t}, {over.fixed[at(after(f))], false, false}, over.inside);
  relink(ca, t, t2);
  relink(bd, u, u2);
  settle({{a, b}, {c, a}, {d, c}, {b, d}});
  return v;
}

/// Turns the edge opposite to vertex `edge` of cell t into the other diagonal.
void Delaunay::flip(int t, int edge) {
  const Cell old = cell(t);
  const int u = old.next[at(edge)];
  const Cell over = cell(u);
  const int f = index_of_neighbour(u, t);
  const int a = old.vertex[at(edge)], b = old.vertex[at(after(edge))], c = old.vertex[at(before(edge))];
  const int d = over.vertex[at(f)];
  const int ca = old.next[at(after(edge))], ab = old.next[at(before(edge))];
  const int bd = over.next[at(after(f))], dc = over.next[at(before(f))];
  put(t, {a, b, d}, {bd, u, ab}, {over.fixed[at(after(f))], false, old.fixed[at(before(edge))]}, old.inside);
  put(u, {a, d, c}, {dc, ca, t}, {over.fixed[at(before(f))], old.fixed[at(after(edge))], false}, old.inside);
  relink(bd, u, t);
  relink(ca, t, u);
}

/// Flips what is not Delaunay, starting from these edges.
void Delaunay::settle(std::vector<std::pair<int, int>> edges) {
  while (!edges.empty()) {
    const auto [b, c] = edges.back();
    edges.pop_back();
    const auto found = find_edge(b, c);
    if (!found) continue;
    const auto [t, e] = *found;
    const int u = cell(t).next[at(e)];
    if (u < 0 || cell(t).fixed[at(e)]) continue;
    const int a = cell(t).vertex[at(e)], d = cell(u).vertex[at(index_of_neighbour(u, t))];
    if (!in_circle(cell(t).vertex[0], cell(t).vertex[1], cell(t).vertex[2], d)) continue;
    flip(t, e);
    edges.insert(edges.end(), {{a, b}, {b, d}, {d, c}, {c, a}});
  }
}

/// A cell with the edge a-b and the index of the vertex opposite to it.
std::optional<std::pair<int, int>> Delaunay::find_edge(int a, int b) const {
  if (a < kFrame) std::swap(a, b);  // a frame's corner can have thousands of edges
  const int start = any_cell_[at(a)];
  for (const bool forward : {true, false}) {  // the frame's corners have no full ring: then turn the other way too
    int t = start;
    do {
      const int i = index_of(t, a);
      if (cell(t).vertex[at(after(i))] == b) return std::pair{t, before(i)};
      if (cell(t).vertex[at(before(i))] == b) return std::pair{t, after(i)};
      t = cell(t).next[at(forward ? after(i) : before(i))];
    } while (t >= 0 && t != start);
    if (t == start) break;
  }
  return std::nullopt;
}

/// The edges that the segment a-b crosses; empty optional when it meets a constraint or a point on its way.
std::optional<std::vector<std::pair<int, int>>> Delaunay::crossings(int a, int b) {
  blocked_by_ = {-1, -1};
  std::vector<std::pair<int, int>> crossed;
  int t = any_cell_[at(a)], right = -1, left = -1;
  const int start = t;
  do {
    const int i = index_of(t, a);
    const int p = cell(t).vertex[at(after(i))], q = cell(t).vertex[at(before(i))];
    const int of_p = orient(a, b, p), of_q = orient(a, b, q);
    if (of_p < 0 && of_q > 0 && orient(p, q, b) < 0) {
      right = p, left = q;
      break;
    }
    // A point on the line, ahead of a: the segment runs through it.
    const auto ahead = [&](int v) {
      const GridPoint &o = point_[at(a)], &g = point_[at(v)], &h = point_[at(b)];
      return Wide{g.x - o.x} * (h.x - o.x) + Wide{g.y - o.y} * (h.y - o.y) > 0;
    };
    if ((of_p == 0 && ahead(p)) || (of_q == 0 && ahead(q))) return std::nullopt;
    t = cell(t).next[at(after(i))];
  } while (t >= 0 && t != start);
  if (right < 0) return std::nullopt;

  while (true) {
    const int e = 3 - index_of(t, right) - index_of(t, left);
    if (cell(t).fixed[at(e)]) {
      blocked_by_ = {right - kFrame, left - kFrame};
      return std::nullopt;
    }
    crossed.emplace_back(right, left);
    const int u = cell(t).next[at(e)];
    const int d = cell(u).vertex[at(index_of_neighbour(u, t))];
    if (d == b) return crossed;
    const int of_d = orient(a, b, d);
    if (of_d == 0) return std::nullopt;
    (of_d < 0 ? right : left) = d;
    t = u;
  }
}

bool Delaunay::constrain(int from, int to) {
  if (from == to) return false;
  const int a = from + kFrame, b = to + kFrame;
  if (!find_edge(a, b)) {
    const auto crossed = crossings(a, b);
    if (!crossed) return false;
    std::deque<std::pair<int, int>> open(crossed->begin(), crossed->end());
    std::vector<std::pair<int, int>> made;
    // Each turn of an edge takes at most as many tries as there are crossings (Sloan 1993).
    for (std::size_t tries = crossed->size() * crossed->size() + 8; !open.empty(); --tries) {
      if (tries == 0) return false;
      const auto [p, q] = open.front();
      open.pop_front();
      const auto found = find_edge(p, q);
      if (!found) return false;
      const auto [t, e] = *found;
      const int u = cell(t).next[at(e)];
      const int o1 = cell(t).vertex[at(e)], o2 = cell(u).vertex[at(index_of_neighbour(u, t))];
      if (orient(o1, o2, p) * orient(o1, o2, q) >= 0) {  // the two triangles form no convex quadrangle yet
        open.emplace_back(p, q);
        continue;
      }
      flip(t, e);
      const bool ends_there = o1 == a || o1 == b || o2 == a || o2 == b;
      if (!ends_there && orient(a, b, o1) * orient(a, b, o2) < 0) {
        open.emplace_back(o1, o2);
      } else {
        made.emplace_back(o1, o2);
      }
    }
    const auto found = find_edge(a, b);
    if (!found) return false;
    cell(found->first).fixed[at(found->second)] = true;  // before settling, so that it stays
    const int u = cell(found->first).next[at(found->second)];
    cell(u).fixed[at(index_of_neighbour(u, found->first))] = true;
    settle(std::move(made));
    return true;
  }
  const auto [t, e] = *find_edge(a, b);
  const int u = cell(t).next[at(e)];
  cell(t).fixed[at(e)] = true;
  cell(u).fixed[at(index_of_neighbour(u, t))] = true;
  return true;
}

bool Delaunay::mark_inside() {
  std::vector<int> side(cell_.size(), -1);
  std::vector<int> open{any_cell_[0]};
  side[at(open.front())] = 0;
  bool closed = true, any = false;
  while (!open.empty()) {
    const int t = open.back();
    open.pop_back();
    cell(t).inside = side[at(t)] == 1;
    any = any || cell(t).inside;
    for (int e = 0; e < 3; ++e) {
      const int u = cell(t).next[at(e)];
      if (u < 0) continue;
      const int expected = cell(t).fixed[at(e)] ? 1 - side[at(t)] : side[at(t)];
      if (side[at(u)] < 0) {
        side[at(u)] = expected;
        open.push_back(u);
      } else {
        closed = closed && side[at(u)] == expected;
      }
    }
  }
  return closed && any;
}

std::vector<Delaunay::Triangle> Delaunay::inside() const {
  std::vector<Triangle> triangles;
  for (const Cell& c : cell_) {
    if (c.inside) triangles.push_back({{c.vertex[0] - kFrame, c.vertex[1] - kFrame, c.vertex[2] - kFrame}, c.fixed});
  }
  return triangles;
}

}  // namespace eyebrow
