// What length unit was taken for another, where a size is off by just that.
#pragma once
#include <string>

namespace eyebrow {

/// "; that is nearly 25.4 times too small: inches taken for mm where the file was written?" Empty = no such factor.
std::string unit_hint(double found, double wanted);

}  // namespace eyebrow
