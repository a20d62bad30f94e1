#include "solid/face_names.hpp"

#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

#include <fmt/format.h>

#include "eyebrow/fault.hpp"

namespace eyebrow {
std::vector<Face> named_faces(const NamedSolid& solid, const std::string& what) {
  std::vector<Face> faces;
  for (TopExp_Explorer each(solid.solid, TopAbs_FACE); each.More(); each.Next()) {
    const TopoDS_Face shape = TopoDS::Face(each.Current());
    const NamedSurface* surface = recognise(shape, solid.surfaces);
    if (surface == nullptr) throw MachineError(fmt::format("{}: a face came out that nothing asked for", what));
    Face face = surface->face;
    face.area = area_of(shape);
    faces.push_back(std::move(face));
  }
  number_names(faces);
  return faces;
}

}  // namespace eyebrow
