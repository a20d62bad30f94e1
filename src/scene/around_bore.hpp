// Block and gasket as they are drawn.
#pragma once
#include "eyebrow/crown.hpp"

namespace eyebrow::scene {

/// Parts::bore with a thin wall: how far block and gasket go on around the bore is nobody's number.
Crown thin_around(Crown around);

/// Faces of it that are seen from the bore.
bool is_block_inside(const Face& face);
bool is_gasket_seen(const Face& face);

}  // namespace eyebrow::scene
