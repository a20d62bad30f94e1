// The edge breaks at the pockets' mouths.
//
// Seen along a pocket's axis, the crown's top is a height w over the plane, and the pocket's wall a circle of radius R.
// A break of width b takes all that is higher than (top - b) + (r - R): it begins b below the edge on the wall and ends
// b outside the wall on the crown. Under one plane that is a cone about the pocket's axis, sheared along the plane.
// Where the top is the lower of two planes (a ridge) the break is the union of both, where it is the higher one (the
// foot of a roof) their common part: so it turns every corner as it should. The modeller's own chamfers fail on most
// mouths that cross from one plane to another, and on some they do not come back at all.
#pragma once
#include "solid/crown_numbers.hpp"
#include "solid/named_solid.hpp"

namespace eyebrow {

/// Breaks each mouth edge on crown flat and roof. Edges on a dish or a top chamfer stay sharp, with a warning.
/// Throws InputError with the pocket's name where the mouth lies on a round dome or the modeller cannot.
void break_mouths(NamedSolid& crown, const Engine& engine, const Origins& origins, const CrownNumbers& numbers,
                  std::vector<Fault>& warnings);

}  // namespace eyebrow
