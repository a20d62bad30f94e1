#include "crown_edges.hpp"

#include <map>
#include <tuple>
#include <utility>

#include "tolerances.hpp"

namespace eyebrow::gap {
namespace {

using Place = std::tuple<double, double, double>;
Place place(Vec3 p) {
  return {p.x, p.y, p.z};
}

using Sides = std::map<std::pair<Place, Place>, const BorderSide*>;

/// Of the exact face at a point of the border, into the void.
Vec3 normal(const Crown& crown, const BorderSide& side, Vec3 at) {
  const Face& face = crown.faces[static_cast<std::size_t>(side.face)];
  if (face.kind == Surface::free_form) return side.normal;
  const Vec3 n = off_surface_gradient(face, at);
  return dot(n, side.normal) < 0 ? -n : n;
}

bool sticks_out(const Crown& crown, const Edge& edge, const Sides& sides) {
  for (std::size_t i = 0; i + 1 < edge.points.size(); ++i) {
    const Vec3 a = edge.points[i], b = edge.points[i + 1];
    const auto left = sides.find({place(a), place(b)}), right = sides.find({place(b), place(a)});
    if (left == sides.end() || right == sides.end()) return true;
    // Into the left face, along it: down behind the right one where the metal sticks out.
    const Vec3 inward = cross(normal(crown, *left->second, a), unit(b - a));
    if (!(dot(normal(crown, *right->second, a), inward) >= -kSmooth)) return true;
  }
  return false;
}

}  // namespace

std::vector<CrownEdge> crown_edges(const Crown& crown, const std::vector<BorderSide>& border) {
  Sides sides;
  for (const BorderSide& side : border) sides[{place(side.from), place(side.to)}] = &side;
  std::vector<CrownEdge> edges;
  for (const Edge& edge : crown.edges) {
    if (edge.faces[0] < 0 || edge.faces[1] < 0 || edge.faces[0] == edge.faces[1]) continue;
    edges.push_back(
        {edge.faces, sticks_out(crown, edge, sides), arcs_through(edge.fine.empty() ? edge.points : edge.fine)});
  }
  return edges;
}

}  // namespace eyebrow::gap
