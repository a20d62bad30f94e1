// A mesh fine enough to be coloured from point to point.
#pragma once
#include <functional>

#include "eyebrow/crown.hpp"

namespace eyebrow::scene {

/// The same surface with sides of triangles halved until none of the chosen faces is longer; their neighbours share
/// them, so that a closed surface stays closed. New points lie on the old triangles.
Crown finer(const Crown& solid, double longest, const std::function<bool(const Face&)>& chosen);

}  // namespace eyebrow::scene
