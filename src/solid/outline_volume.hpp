// The volume of a solid of revolution from its outline, in closed form: the check on what the modeller makes.
#pragma once
#include "eyebrow/profile.hpp"

namespace eyebrow {

/// pi times the integral of r^2 dw along the outline (Gauss's theorem), each piece exactly.
double outline_volume(const Profile& profile);

}  // namespace eyebrow
