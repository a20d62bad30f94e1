// What is wrong with a STEP file's text before the modeller sees it.
#pragma once
#include <string>

namespace eyebrow {

/// Why its instances (ISO 10303-21: `#12 = NAME(...);`) do not hang together: one is defined twice, or one is named
/// that is not there. Empty = they do. The modeller's reader may never come back from such a file.
std::string step_trouble(const std::string& text);

}  // namespace eyebrow
