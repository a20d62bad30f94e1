// A valve's outline made larger or smaller.
#pragma once
#include "eyebrow/profile.hpp"

namespace eyebrow::gap {

/// The outline moved outward by `grow` (inward where negative), corners mitred: outward it holds every displacement of
/// the valve by up to `grow` (corners of the outline turn by 90 degrees at most), inward it is held by every one.
/// Right to the order of grow^2 / radius, for |grow| far below the outline's least element.
Profile offset_outline(const Profile& profile, double grow);

/// The outline with a dish filled in flat.
Profile filled_outline(Profile profile);

}  // namespace eyebrow::gap
