#include "plot_contour.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace eyebrow::plot {
namespace {

struct Corner {
  std::size_t id;  ///< the same for the same place, in whatever triangle
  Place at;
  double z;
};
using Triangle = std::array<Corner, 3>;

bool whole(const Grid& grid, std::size_t i, std::size_t k) {
  return std::isfinite(grid.at(i, k)) && std::isfinite(grid.at(i + 1, k)) && std::isfinite(grid.at(i + 1, k + 1)) &&
         std::isfinite(grid.at(i, k + 1));
}

std::vector<Triangle> triangles(const Grid& grid) {
  std::vector<Triangle> out;
  const std::size_t across = grid.x.size(), nodes = grid.z.size();
  for (std::size_t k = 0; k + 1 < grid.y.size(); ++k)
    for (std::size_t i = 0; i + 1 < across; ++i) {
      if (!whole(grid, i, k)) continue;
      const auto node = [&](std::size_t a, std::size_t b) -> Corner {
        return {a + b * across, {grid.x[a], grid.y[b]}, grid.at(a, b)};
      };
      const Corner ring[] = {node(i, k), node(i + 1, k), node(i + 1, k + 1), node(i, k + 1)};
      const Corner middle{nodes + i + k * across,
                          {(grid.x[i] + grid.x[i + 1]) / 2, (grid.y[k] + grid.y[k + 1]) / 2},
                          (ring[0].z + ring[1].z + ring[2].z + ring[3].z) / 4};
      for (std::size_t c = 0; c < 4; ++c) out.push_back({ring[c], ring[(c + 1) % 4], middle});
    }
  return out;
}

Place between(const Corner& a, const Corner& b, double level) {
  const double s = (level - a.z) / (b.z - a.z);
  return {a.at.x + s * (b.at.x - a.at.x), a.at.y + s * (b.at.y - a.at.y)};
}

/// The part of a polygon with corners' values at which `side` times z is at least `side` times `level`.
std::vector<Corner> cut(const std::vector<Corner>& polygon, double level, double side) {
  std::vector<Corner> out;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Corner &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
    const bool keeps = side * (a.z - level) >= 0, next = side * (b.z - level) >= 0;
    if (keeps) out.push_back(a);
    if (keeps != next) out.push_back({0, between(a, b, level), level});
  }
  return out;
}

using Edge = std::pair<std::size_t, std::size_t>;

}  // namespace

std::vector<std::vector<Place>> contour(const Grid& grid, double level) {
  // One piece a triangle at most, from a place on one of its edges to one on another. An edge is in two triangles at
  // most, so every place has two pieces at most: they are chains.
  struct Piece {
    Edge ends[2];
    bool used = false;
  };
  std::vector<Piece> pieces;
  std::map<Edge, Place> places;
  std::multimap<Edge, std::size_t> at;
  for (const Triangle& t : triangles(grid)) {
    Piece piece;
    int count = 0;
    for (std::size_t c = 0; c < 3; ++c) {
      const Corner *a = &t[c], *b = &t[(c + 1) % 3];
      if (a->id > b->id) std::swap(a, b);  // the same sum, from whichever triangle: the same place
      if ((a->z >= level) == (b->z >= level)) continue;
      const Edge edge{a->id, b->id};
      places.emplace(edge, between(*a, *b, level));
      piece.ends[count++] = edge;
    }
    if (count < 2) continue;
    for (const Edge& end : piece.ends) at.emplace(end, pieces.size());
    pieces.push_back(piece);
  }
  const auto follow = [&](std::vector<Place>& chain, Edge end) {
    for (;;) {
      Piece* next = nullptr;
      const auto [first, last] = at.equal_range(end);
      for (auto each = first; each != last; ++each)
        if (!pieces[each->second].used) next = &pieces[each->second];
      if (!next) return;
      next->used = true;
      end = next->ends[0] == end ? next->ends[1] : next->ends[0];
      chain.push_back(places.at(end));
    }
  };
  std::vector<std::vector<Place>> out;
  for (Piece& piece : pieces) {
    if (piece.used) continue;
    piece.used = true;
    std::vector<Place> back{places.at(piece.ends[0])}, chain{places.at(piece.ends[1])};
    follow(chain, piece.ends[1]);
    follow(back, piece.ends[0]);
    std::vector<Place> all(back.rbegin(), back.rend());
    all.insert(all.end(), chain.begin(), chain.end());
    out.push_back(std::move(all));
  }
  return out;
}

std::vector<Polygon> region(const Grid& grid, double from, double to) {
  std::vector<Polygon> out;
  for (const Triangle& t : triangles(grid)) {
    const std::vector<Corner> part = cut(cut({t.begin(), t.end()}, from, 1), to, -1);
    if (part.size() < 3) continue;
    Polygon polygon;
    for (const Corner& corner : part) polygon.push_back(corner.at);
    out.push_back(std::move(polygon));
  }
  return out;
}

double value_at(const Grid& grid, Place place) {
  const auto cell = [](const std::vector<double>& along, double at) -> std::size_t {
    const auto after = std::upper_bound(along.begin(), along.end(), at);
    const auto index = static_cast<std::size_t>(after - along.begin());
    return std::min(index == 0 ? 0 : index - 1, along.size() - 2);
  };
  if (grid.x.size() < 2 || grid.y.size() < 2) return NAN;
  if (!(place.x >= grid.x.front() && place.x <= grid.x.back() && place.y >= grid.y.front() && place.y <= grid.y.back()))
    return NAN;
  const std::size_t i = cell(grid.x, place.x), k = cell(grid.y, place.y);
  if (!whole(grid, i, k)) return NAN;
  double u = (place.x - grid.x[i]) / (grid.x[i + 1] - grid.x[i]);
  double v = (place.y - grid.y[k]) / (grid.y[k + 1] - grid.y[k]);
  double z00 = grid.at(i, k), z10 = grid.at(i + 1, k), z01 = grid.at(i, k + 1), z11 = grid.at(i + 1, k + 1);
  const double middle = (z00 + z10 + z11 + z01) / 4;
  // Mirrored so that the triangle is the one on the side v = 0.
  if (v > u) {
    std::swap(u, v);
    std::swap(z10, z01);
  }
  if (u + v > 1) {
    std::swap(u, v);
    u = 1 - u;
    v = 1 - v;
    std::swap(z00, z11);
  }
  return z00 * (1 - u - v) + z10 * (u - v) + middle * 2 * v;
}

Polygon cell_of(const Grid& grid, std::size_t i, std::size_t k) {
  return {
      {grid.x[i], grid.y[k]}, {grid.x[i + 1], grid.y[k]}, {grid.x[i + 1], grid.y[k + 1]}, {grid.x[i], grid.y[k + 1]}};
}

std::vector<Polygon> left_out(const Grid& grid) {
  std::vector<Polygon> out;
  for (std::size_t k = 0; k + 1 < grid.y.size(); ++k)
    for (std::size_t i = 0; i + 1 < grid.x.size(); ++i)
      if (!whole(grid, i, k)) out.push_back(cell_of(grid, i, k));
  return out;
}

}  // namespace eyebrow::plot
