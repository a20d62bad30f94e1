// What stands between two places.
#pragma once
#include <vector>

#include "target.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {

/// Nearer than this to either end of a way nothing is in the way: the foot's own surface, and what the valve touches.
inline constexpr double kShadeEnd = 1e-4;

/// A triangle between the foot and what lies `length` along n, in the valve's frame; null = none.
const Piece* shade(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, Vec3 foot, Vec3 n,
                   double length);

/// Does the line a + t d, 0 <= t <= 1, in the crown's frame pass the piece? One that runs along it does not.
bool crosses(Vec3 a, Vec3 d, const Piece& piece);

}  // namespace eyebrow::gap
