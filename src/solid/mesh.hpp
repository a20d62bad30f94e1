// From an exact solid to the faces, edges and triangles that the gap kernel sees.
#pragma once
#include <TopoDS_Shape.hxx>
#include <string>
#include <vector>

#include "eyebrow/crown.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow {

/// `faces`: one for each face of the solid in the modeller's order. `by_mesh`: they meet nearly, not quite; edges stay
/// where the modeller has them, and the result says so. Throws MachineError when `deflection` cannot be kept. Our own
/// triangles, because the modeller's put 180,000 of them on a dome and took 10 s, and do not bound their error.
Crown mesh_solid(const TopoDS_Shape& solid, std::vector<Face> faces, double deflection, const std::string& what,
                 bool by_mesh = false);

}  // namespace eyebrow
