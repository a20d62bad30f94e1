#include "scene/polydata.hpp"

#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkFloatArray.h>
#include <vtkIntArray.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

#include <map>

namespace eyebrow::scene {
namespace {

Vec3 turned_area(const Crown& solid, const Triangle& triangle) {
  const Vec3 a = solid.points[static_cast<std::size_t>(triangle.vertex[0])];
  const Vec3 b = solid.points[static_cast<std::size_t>(triangle.vertex[1])];
  const Vec3 c = solid.points[static_cast<std::size_t>(triangle.vertex[2])];
  return cross(b - a, c - a);
}

/// The exact surface's normal out of the metal; where it has none, the triangles' own.
Vec3 normal_at(const Face& face, Vec3 p, Vec3 from_triangles) {
  if (face.kind == Surface::free_form) return unit(from_triangles);
  const Vec3 exact = off_surface_gradient(face, p);
  if (!std::isfinite(dot(exact, exact))) return unit(from_triangles);
  return dot(exact, from_triangles) < 0 ? -exact : exact;
}

}  // namespace

vtkSmartPointer<vtkPolyData> surface_data(const Crown& solid, const ChosenFaces& chosen) {
  std::map<std::pair<int, int>, vtkIdType> ids;  // face and point
  std::vector<std::pair<int, int>> made;
  std::vector<Vec3> areas;
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> cells;
  vtkNew<vtkIntArray> faces, sources;
  faces->SetName("face");
  sources->SetName("point");
  for (const Triangle& triangle : solid.triangles) {
    if (!chosen(solid.faces[static_cast<std::size_t>(triangle.face)])) continue;
    const Vec3 area = turned_area(solid, triangle);
    vtkIdType cell[3];
    for (std::size_t i = 0; i < 3; ++i) {
      const std::pair key{triangle.face, triangle.vertex[i]};
      const auto [at, is_new] = ids.try_emplace(key, static_cast<vtkIdType>(made.size()));
      if (is_new) {
        const Vec3 p = solid.points[static_cast<std::size_t>(key.second)];
        points->InsertNextPoint(p.x, p.y, p.z);
        sources->InsertNextValue(key.second);
        made.push_back(key);
        areas.push_back({});
      }
      cell[i] = at->second;
      areas[static_cast<std::size_t>(cell[i])] = areas[static_cast<std::size_t>(cell[i])] + area;
    }
    cells->InsertNextCell(3, cell);
    faces->InsertNextValue(triangle.face);
  }
  vtkNew<vtkFloatArray> normals;
  normals->SetNumberOfComponents(3);
  for (std::size_t i = 0; i < made.size(); ++i) {
    const Face& face = solid.faces[static_cast<std::size_t>(made[i].first)];
    const Vec3 n = normal_at(face, solid.points[static_cast<std::size_t>(made[i].second)], areas[i]);
    normals->InsertNextTuple3(n.x, n.y, n.z);
  }
  auto data = vtkSmartPointer<vtkPolyData>::New();
  data->SetPoints(points);
  data->SetPolys(cells);
  data->GetPointData()->SetNormals(normals);
  data->GetPointData()->AddArray(sources);
  data->GetCellData()->AddArray(faces);
  return data;
}

vtkSmartPointer<vtkPolyData> edge_data(const Crown& solid, const ChosenFaces& chosen) {
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> lines;
  for (const Edge& edge : solid.edges) {
    if (edge.faces[0] == edge.faces[1] || edge.faces[0] < 0 || edge.faces[1] < 0) continue;
    if (!chosen(solid.faces[static_cast<std::size_t>(edge.faces[0])]) &&
        !chosen(solid.faces[static_cast<std::size_t>(edge.faces[1])]))
      continue;
    lines->InsertNextCell(static_cast<vtkIdType>(edge.points.size()));
    for (const Vec3 p : edge.points) lines->InsertCellPoint(points->InsertNextPoint(p.x, p.y, p.z));
  }
  auto data = vtkSmartPointer<vtkPolyData>::New();
  data->SetPoints(points);
  data->SetLines(lines);
  return data;
}

vtkSmartPointer<vtkPolyData> closed_data(const Crown& solid) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const Vec3 p : solid.points) points->InsertNextPoint(p.x, p.y, p.z);
  vtkNew<vtkCellArray> cells;
  for (const Triangle& triangle : solid.triangles)
    cells->InsertNextCell({triangle.vertex[0], triangle.vertex[1], triangle.vertex[2]});
  auto data = vtkSmartPointer<vtkPolyData>::New();
  data->SetPoints(points);
  data->SetPolys(cells);
  return data;
}

vtkSmartPointer<vtkMatrix4x4> matrix_of(const Frame& frame) {
  auto matrix = vtkSmartPointer<vtkMatrix4x4>::New();
  const Vec3 columns[] = {frame.x, frame.y, frame.z, frame.origin};
  for (int i = 0; i < 4; ++i) {
    matrix->SetElement(0, i, columns[i].x);
    matrix->SetElement(1, i, columns[i].y);
    matrix->SetElement(2, i, columns[i].z);
  }
  return matrix;
}

}  // namespace eyebrow::scene
