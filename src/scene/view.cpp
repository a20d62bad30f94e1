#include <algorithm>

#include "scene/scene.hpp"
#include "scene/words.hpp"

namespace eyebrow::scene {
namespace {

template <class Enum>
std::optional<Enum> of_word(const std::vector<std::string>& words, const std::string& word) {
  const auto at = std::find(words.begin(), words.end(), word);
  return at == words.end() ? std::nullopt : std::optional(static_cast<Enum>(at - words.begin()));
}

}  // namespace

const char* to_string(View view) {
  return kViewWords.at(static_cast<std::size_t>(view)).c_str();
}

std::optional<View> view_of(const std::string& word) {
  return of_word<View>(kViewWords, word);
}

const char* to_string(Coloring coloring) {
  return kColoringWords.at(static_cast<std::size_t>(coloring)).c_str();
}

std::optional<Coloring> coloring_of(const std::string& word) {
  return of_word<Coloring>(kColoringWords, word);
}

}  // namespace eyebrow::scene
