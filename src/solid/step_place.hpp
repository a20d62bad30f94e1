// Where the piston frame is in a STEP file: bore axis, crown flat, front.
#pragma once
#include <TopoDS_Shape.hxx>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow {

/// Found from the solid as far as the file of the engine does not state it, and then told in `warnings`. Throws
/// InputError where it is not clear.
Frame piston_frame(const TopoDS_Shape& solid, const Engine& engine, const Origins& origins,
                   std::vector<Fault>& warnings);

/// Has it an outside cylinder that fits crown diameter or bore?
bool fits_bore(const TopoDS_Shape& solid, const Engine& engine);

/// The solid in the coordinates of `frame`.
TopoDS_Shape in_frame(const TopoDS_Shape& solid, const Frame& frame);

}  // namespace eyebrow
