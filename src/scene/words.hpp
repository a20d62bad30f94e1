// The words that views and colourings go by: also for who does not link the scene.
#pragma once
#include <string>
#include <vector>

namespace eyebrow::scene {

/// In the order of View.
inline const std::vector<std::string> kViewWords{"best", "near", "square", "front", "rear", "right", "left", "above"};
/// In the order of LitKind.
inline const std::vector<std::string> kLitWords{"travel", "face", "radial", "closest", "valves", "bore", "head"};
/// In the order of Coloring.
inline const std::vector<std::string> kColoringWords{"plain", "gap", "least", "groups"};

}  // namespace eyebrow::scene
