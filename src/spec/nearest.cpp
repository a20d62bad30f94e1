#include "spec/nearest.hpp"

#include <algorithm>
#include <cctype>

namespace eyebrow {
namespace {

/// Longer words are not compared: no key of ours is near them, and the table of distances grows as the square.
constexpr std::size_t kLongestWord = 64;

std::string levelled(std::string_view word) {
  std::string out;
  for (const char c : word)
    out += (c == '-' || c == ' ') ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

}  // namespace

int edit_distance(std::string_view first, std::string_view second) {
  const std::string a = levelled(first), b = levelled(second);
  const std::size_t rows = a.size() + 1, columns = b.size() + 1;
  std::vector<int> d(rows * columns);
  const auto at = [&](std::size_t i, std::size_t j) -> int& { return d[i * columns + j]; };
  for (std::size_t i = 0; i < rows; ++i) at(i, 0) = static_cast<int>(i);
  for (std::size_t j = 0; j < columns; ++j) at(0, j) = static_cast<int>(j);
  for (std::size_t i = 1; i < rows; ++i) {
    for (std::size_t j = 1; j < columns; ++j) {
      const int change = a[i - 1] == b[j - 1] ? 0 : 1;
      at(i, j) = std::min({at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        at(i, j) = std::min(at(i, j), at(i - 2, j - 2) + 1);
    }
  }
  return at(rows - 1, columns - 1);
}

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
  if (word.size() > kLongestWord) return {};
  std::string best;
  int least = std::max<int>(2, static_cast<int>(word.size()) / 3) + 1;
  for (const std::string& candidate : candidates) {
    const int distance = edit_distance(word, candidate);
    // "x" is two edits from any word of two letters: something must be left of the word.
    if (distance < least && distance < static_cast<int>(std::max(word.size(), candidate.size()))) {
      least = distance;
      best = candidate;
    }
  }
  return best;
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += between;
    text += words[i];
  }
  return text;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string>& candidates) {
  if (candidates.empty()) return {};
  const std::string near = nearest(word, candidates);
  if (!near.empty()) return ": did you mean \"" + near + "\"?";
  return (candidates.size() == 1 ? ": allowed is " : ": allowed are ") + joined(candidates);
}

std::string there_are(std::string_view word, const std::vector<std::string>& candidates) {
  const std::string near = nearest(word, candidates);
  const std::string all = (candidates.size() == 1 ? "here is " : "here are ") + joined(candidates);
  return near.empty() ? "; t" + all : ": did you mean \"" + near + "\"? T" + all;
}

}  // namespace eyebrow
