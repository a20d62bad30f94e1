// Distances to the exact surface of a face, by closed form.
#pragma once
#include <span>

#include "eyebrow/crown.hpp"

namespace eyebrow {

/// Signed distance of `p` from the face's untrimmed surface: positive on the side of the frame's z (plane) or away from
/// the axis, centre or tube (the others). The surface must not be free-form.
double off_surface(const Face& face, Vec3 p);

/// Its gradient, a unit vector.
Vec3 off_surface_gradient(const Face& face, Vec3 p);

/// The point next to `start` that lies on all of the surfaces, by Newton steps of least length; free-form ones are left
/// out.
Vec3 put_on(std::span<const Face* const> faces, Vec3 start);

}  // namespace eyebrow
