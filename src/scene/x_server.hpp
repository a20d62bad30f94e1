// Is there an X server to draw with? VTK would end the process to tell that there is none.
#pragma once
#include <string>

namespace eyebrow::scene {

/// Why there is none with OpenGL; empty = there is one.
std::string trouble_with_x();

}  // namespace eyebrow::scene
