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

Look with_focus(Look look, LitKind kind, int valve, int other) {
  const bool of_piston = gap_kind(kind).has_value();
  if (look.lit == Look().lit) {
    std::erase_if(look.lit, [&](LitKind each) { return gap_kind(each).has_value() != of_piston; });
    if (kind == LitKind::head) look.lit = {kind};
  }
  look.lit_valve = valve < 0 ? std::nullopt : std::optional(valve);
  look.lit_other = other < 0 ? std::nullopt : std::optional(other);
  look.focus = kind;
  return look;
}

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
