#include "solid/face_names.hpp"

#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>

#include <fmt/format.h>

#include "eyebrow/fault.hpp"

namespace eyebrow {
namespace {

/// Turns a plane's normal out of the metal.
void turn_outward(Face& face, const TopoDS_Face& shape) {
  if (dot(face.frame.z, outward_at_middle(shape)) >= 0) return;
  face.frame.z = -face.frame.z;
  face.frame.y = -face.frame.y;
}

}  // namespace

std::vector<Face> named_faces(const NamedSolid& solid, const std::string& what) {
  std::vector<Face> faces;
  for (TopExp_Explorer each(solid.solid, TopAbs_FACE); each.More(); each.Next()) {
    const TopoDS_Face shape = TopoDS::Face(each.Current());
    const auto mouth = std::find_if(solid.mouths.begin(), solid.mouths.end(),
                                    [&](const MouthFace& m) { return m.face.IsSame(shape); });
    Face face;
    if (mouth != solid.mouths.end()) {
      face = read_surface(shape);
      face.group = Group::mouth;
      face.pocket = mouth->pocket;
      face.name = mouth->what + " mouth";
      if (face.kind == Surface::plane) turn_outward(face, shape);
    } else if (const NamedSurface* surface = recognise(shape, solid.surfaces)) {
      face = surface->face;
    } else {
      throw MachineError(fmt::format("{}: a face came out that nothing asked for", what));
    }
    face.area = area_of(shape);
    faces.push_back(std::move(face));
  }
  number_names(faces);
  return faces;
}

}  // namespace eyebrow
