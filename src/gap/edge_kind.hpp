// Which edges of a crown can be nearest to a valve.
#pragma once
#include <vector>

#include "target.hpp"

namespace eyebrow::gap {

/// Unit normal of a face's untrimmed surface at one of its points, away from its axis, centre or tube (plane: its z).
Vec3 plain_normal(const Face& face, Vec3 point);

/// For each of the crown's edges: does the metal stick out along it, somewhere? In doubt it does. Where two faces meet
/// smoothly or enclose a hollow corner, one of the two is always nearer than the edge.
std::vector<bool> edges_that_stick_out(const Target& target);

}  // namespace eyebrow::gap
