// What the gap kernel sees of a solid: named faces, their edges, and a mesh whose vertices lie on the exact surfaces.
#pragma once
#include <array>
#include <string>
#include <vector>

#include "eyebrow/vec.hpp"

namespace eyebrow {

/// sheared_cone: an edge break whose mouth slants; distance from the axis = radius + z + radius2 x in the frame.
enum class Surface { plane, cylinder, cone, sphere, torus, sheared_cone, free_form };

enum class Group {
  flat,  ///< crown flat
  dish_floor,
  dish_corner,
  dish_wall,
  dome,
  top_chamfer,
  side,  ///< outer cylinder and top land
  underside,
  floor,  ///< of a pocket
  corner,
  wall,
  mouth,  ///< edge break at a pocket's mouth
  bore,   ///< cylinder wall and notches
  gasket,
};
const char* to_string(Group group);

/// One face of the B-rep. `frame.z` is the axis (plane: the normal out of the metal).
struct Face {
  Surface kind = Surface::plane;
  Group group = Group::flat;
  int pocket = -1;   ///< whose pocket, for floor, corner, wall and mouth
  std::string name;  ///< unique; "intake pocket floor"
  Frame frame;
  double radius = 0;    ///< cylinder, sphere; torus: of the centre circle; cones: at the frame's origin
  double radius2 = 0;   ///< torus: of the tube; cone: half angle in radians; sheared cone: slope of the mouth along x
  double area = 0;      ///< as the modeller integrates it, mm2
  bool stated = false;  ///< what it is the engine file says (`piston.step.faces`)
};

/// Signed distance of `p` from the face's untrimmed surface: positive on the side of the frame's z (plane) or away from
/// the axis, centre or tube (the others). NaN where the surface is free-form. Of a sheared cone: to the first order,
/// near it.
double off_surface(const Face& face, Vec3 p);

/// Its gradient, a unit vector.
Vec3 off_surface_gradient(const Face& face, Vec3 p);

/// One edge of the B-rep as a chain of points on the exact curve.
struct Edge {
  std::array<int, 2> faces{-1, -1};  ///< its two neighbours (the same twice on a seam)
  std::vector<Vec3> points;          ///< vertices of the mesh
  std::vector<Vec3> fine = {};       ///< these with more between, for what the mesh is too coarse for; empty = none
};

struct Triangle {
  std::array<int, 3> vertex;  ///< into Crown::points, counter-clockwise seen from the void
  int face;
};

/// The surface of one solid, in its own frame (a crown: the piston frame).
struct Crown {
  std::vector<Face> faces;
  std::vector<Edge> edges;
  std::vector<Vec3> points;
  std::vector<Triangle> triangles;
  double error = 0;   ///< mm; no point of the exact surface is further from its triangle, nor the reverse
  double volume = 0;  ///< of the exact solid, mm3
  /// The faces do not meet as their surfaces do: the mesh and its error are all that is known, and a gap is told from
  /// its lower end.
  bool by_mesh = false;
};

}  // namespace eyebrow
