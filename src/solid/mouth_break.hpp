// The edge breaks at the pockets' mouths.
#pragma once
#include "solid/crown_solid.hpp"

namespace eyebrow {

/// Chamfers each edge where the wall of a pocket with a mouth break meets crown flat, dome, dish or top chamfer.
/// Throws InputError with the pocket's name when the modeller cannot.
void break_mouths(NamedSolid& crown, const Origins& origins, const CrownNumbers& numbers);

}  // namespace eyebrow
