#include <algorithm>

#include "scene/scene.hpp"

namespace eyebrow::scene {

const std::vector<std::string>& view_words() {
  static const std::vector<std::string> words{"best", "near", "square", "front", "rear", "right", "left", "above"};
  return words;
}

const char* to_string(View view) {
  return view_words().at(static_cast<std::size_t>(view)).c_str();
}

std::optional<View> view_of(const std::string& word) {
  const auto& words = view_words();
  const auto at = std::find(words.begin(), words.end(), word);
  if (at == words.end()) return std::nullopt;
  return static_cast<View>(at - words.begin());
}

}  // namespace eyebrow::scene
