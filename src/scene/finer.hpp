// A mesh fine enough to be coloured from point to point.
#pragma once
#include "eyebrow/crown.hpp"

namespace eyebrow::scene {

/// The same surface with sides of triangles halved until none is longer. New points lie on the old triangles.
Crown finer(const Crown& solid, double longest);

}  // namespace eyebrow::scene
