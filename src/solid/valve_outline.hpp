// A valve's outline, with its faults placed in the user's file.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/profile.hpp"

namespace eyebrow {

/// How far the stem is carried above the rim plane, mm.
double stem_length(const Engine& engine, const Valve& valve);

/// What is wrong with the numbers of a valve's head; empty when an outline can be drawn.
std::vector<Fault> valve_faults(const Valve& valve, double stem_length, LengthUnit unit, const Origins& origins);

/// Radius and the centre's w of the spherical valve face that passes the axis `depth` above (dished) or below (domed)
/// the rim plane and meets the rim plane at radius `a`.
struct FaceSphere {
  double radius = 0, centre = 0;
};
FaceSphere face_sphere(FaceShape shape, double depth, double a);

}  // namespace eyebrow
