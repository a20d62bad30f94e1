// Where a surface of revolution is nearest to a valve's axis at one height.
#pragma once
#include <functional>

#include "sheet.hpp"

namespace eyebrow::gap {

/// Calls `take` with each place of the untrimmed surface at height z = w where the distance from the z axis is less
/// than on either side along the slice. `form`: of a cylinder, cone, sheared cone or torus; `centre`: origin of the
/// places, form's axes.
void nearest_on_slice(const SheetForm& form, Vec3 centre, double w, const std::function<void(Vec3)>& take);

}  // namespace eyebrow::gap
