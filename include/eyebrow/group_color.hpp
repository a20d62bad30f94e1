// One colour for each group of faces, in pictures and in STEP files alike.
#pragma once
#include "eyebrow/crown.hpp"

namespace eyebrow {

struct Rgb {
  double red = 0, green = 0, blue = 0;  ///< 0 ... 1, sRGB
  bool operator==(const Rgb&) const = default;
};

/// Those of a pocket differ in how light they are as well.
Rgb group_color(Group group);

}  // namespace eyebrow
