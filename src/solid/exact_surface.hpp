// Points put on the exact surfaces of faces.
#pragma once
#include <span>

#include "eyebrow/crown.hpp"

namespace eyebrow {

/// The point next to `start` that lies on all of the surfaces, by Newton steps of least length; free-form ones are left
/// out.
Vec3 put_on(std::span<const Face* const> faces, Vec3 start);

}  // namespace eyebrow
