// --section: where a picture is cut open.
#pragma once
#include <string>

#include "eyebrow/engine.hpp"
#include "scene/scene.hpp"

namespace eyebrow::cli {

/// "intake", "intake@4:30", "x=12.5", "y=0.5 in"; empty = none. A bare length is in the engine file's unit, from the
/// bore axis (x, y) or the block's deck face (z). Throws UsageError.
scene::Section section_given(const std::string& text, const Engine& engine);

}  // namespace eyebrow::cli
