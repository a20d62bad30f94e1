#include "solid/mesh.hpp"

#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "solid/exact_surface.hpp"
#include "solid/face_mesh.hpp"
#include "solid/occt.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kMostPoints = 600000;  // ten times what a crown of four pockets and a dome has: give up
constexpr int kRounds = 16;                  // of halving pieces of edges that some face found too coarse
// Share of the deflection that an edge's chords may sag. Next to faces that are straight one way, triangles may span
// two chords, which sag four times as much; next to faces that curve both ways the grid inside is as coarse as this.
constexpr double kSagStraight = 0.22, kSagCurved = 0.55;

/// Share of the deflection that the edges' points may be off their surfaces: chords and triangles beside them are off
/// by as much each, however fine they are: some 3.1 times that in all.
constexpr double kOffShare = 0.3;

bool curves_both_ways(const Face& face) {
  return face.kind == Surface::sphere || face.kind == Surface::torus;
}

double sag_for(const EdgeChain& chain, const std::vector<Face>& faces, double deflection) {
  const bool curved = curves_both_ways(faces[static_cast<std::size_t>(chain.faces[0])]) ||
                      curves_both_ways(faces[static_cast<std::size_t>(chain.faces[1])]);
  return deflection * (curved ? kSagCurved : kSagStraight);
}

/// Greatest distance of a point from the surfaces it should lie on.
double off_surfaces(const EdgeChain& chain, const std::vector<Face>& faces) {
  double off = 0;
  for (const int index : chain.faces) {
    const Face& face = faces[static_cast<std::size_t>(index)];
    if (face.kind == Surface::free_form) continue;
    for (const Vec3& p : chain.points) off = std::max(off, std::fabs(off_surface(face, p)));
  }
  return off;
}

[[noreturn]] void give_up(const std::string& what, const std::string& face, double deflection) {
  throw MachineError(fmt::format(
      "{}: its {} could not be divided into triangles to within {:.3g} mm; edges that touch without crossing "
      "are the usual cause",
      what, face, deflection));
}

/// Seven more points of the curve between two: an arc through three of them errs a 500th of what it would before.
std::vector<Vec3> refined(EdgeChain chain, const std::vector<Face>& faces) {
  for (int round = 0; round < 3; ++round) {
    std::set<int> every;
    for (int piece = 0; piece + 1 < static_cast<int>(chain.points.size()); ++piece) every.insert(every.end(), piece);
    halve(chain, faces, every);
  }
  return chain.points;
}

/// Leaves out points that no triangle uses (a sphere's pole, its seam).
void drop_unused(Crown& crown) {
  std::vector<int> place(crown.points.size(), -1);
  std::vector<Vec3> used;
  for (Triangle& triangle : crown.triangles) {
    for (int& vertex : triangle.vertex) {
      int& to = place[static_cast<std::size_t>(vertex)];
      if (to < 0) to = static_cast<int>(used.size()), used.push_back(crown.points[static_cast<std::size_t>(vertex)]);
      vertex = to;
    }
  }
  crown.points = std::move(used);
}

}  // namespace

Crown mesh_solid(const TopoDS_Shape& solid, std::vector<Face> faces, double deflection, const std::string& what,
                 bool by_mesh) {
  Topology topology = take_apart(solid, faces, by_mesh ? EdgePlace::as_it_is : EdgePlace::exact);
  for (EdgeChain& chain : topology.chains) divide(chain, topology, faces, sag_for(chain, faces, deflection));
  Crown crown;
  std::string trouble = "faces";
  for (int round = 0; round < kRounds; ++round) {
    crown.points = topology.vertex_points;
    crown.triangles.clear();
    crown.error = 0;
    double off = 0;
    for (EdgeChain& chain : topology.chains) {
      chain.ids.assign(chain.points.size(), chain.first_vertex);
      chain.ids.back() = chain.last_vertex;
      for (std::size_t k = 1; k + 1 < chain.points.size(); ++k) {
        chain.ids[k] = static_cast<int>(crown.points.size());
        crown.points.push_back(chain.points[k]);
      }
      crown.error = std::max(crown.error, kErrorMargin * chain.sag);
      off = std::max(off, off_surfaces(chain, faces));
    }

    if (!(off < kOffShare * deflection))
      throw MachineError(
          fmt::format("{}: edges lie {:.3g} mm off the faces that they belong to; {:.3g} mm can be taken", what, off,
                      kOffShare * deflection));
    std::map<int, std::set<int>> coarse;
    for (int f = 0; f < static_cast<int>(faces.size()); ++f) {
      const FaceMesh mesh =
          mesh_face(TopoDS::Face(topology.faces(f + 1)), f, faces, topology, deflection - off, crown.points);
      if (mesh.failed) give_up(what, faces[static_cast<std::size_t>(f)].name, deflection);
      if (!mesh.too_coarse.empty()) trouble = faces[static_cast<std::size_t>(f)].name;
      for (const ChainPiece& each : mesh.too_coarse) coarse[each.edge].insert(each.piece);
      crown.error = std::max(crown.error, mesh.error);
      for (const auto& ids : mesh.triangles) crown.triangles.push_back({ids, f});
    }
    if (crown.points.size() > kMostPoints) break;
    if (!coarse.empty()) {
      for (const auto& [edge, pieces] : coarse) halve(topology.chains[static_cast<std::size_t>(edge)], faces, pieces);
      continue;
    }

    crown.error += off;
    if (crown.error > deflection) break;
    for (const EdgeChain& chain : topology.chains) {
      if (chain.degenerate) continue;
      crown.edges.push_back({chain.faces, chain.points, refined(chain, faces)});
    }
    drop_unused(crown);
    crown.faces = std::move(faces);
    crown.by_mesh = by_mesh;
    return crown;
  }
  give_up(what, trouble, deflection);
}

}  // namespace eyebrow
