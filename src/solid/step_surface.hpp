// What surface a face of a file lies on, also where the file has it as a spline.
#pragma once
#include <TopoDS_Face.hxx>

#include "eyebrow/crown.hpp"

namespace eyebrow {

/// As read_surface. A spline whose points lie on a plane, cylinder, cone, ball or torus, to kSameSurface, is that.
Face step_surface(const TopoDS_Face& face);

}  // namespace eyebrow
