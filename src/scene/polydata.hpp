// From faces, edges and meshes to what VTK draws.
#pragma once
#include <vtkSmartPointer.h>

#include <functional>
#include <vector>

#include "eyebrow/crown.hpp"

class vtkMatrix4x4;
class vtkPolyData;

namespace eyebrow::scene {

using ChosenFaces = std::function<bool(const Face&)>;

/// The triangles of the chosen faces, with normals of the exact surfaces: each face has points of its own. Cell array
/// "face": the number in `solid.faces`; point array "point": the number in `solid.points`.
vtkSmartPointer<vtkPolyData> surface_data(const Crown& solid, const ChosenFaces& chosen);

/// The true edges between chosen faces, seams left out.
vtkSmartPointer<vtkPolyData> edge_data(const Crown& solid, const ChosenFaces& chosen);

/// All triangles on shared points: a closed surface.
vtkSmartPointer<vtkPolyData> closed_data(const Crown& solid);

/// Takes what is in the frame to the frame around it.
vtkSmartPointer<vtkMatrix4x4> matrix_of(const Frame& frame);

}  // namespace eyebrow::scene
