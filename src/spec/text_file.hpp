// A text file read whole, within bounds.
#pragma once
#include <cstddef>
#include <string>

namespace eyebrow {

struct TextLimits {
  std::size_t bytes = 0;
  std::size_t lines = 0;
};

struct TextFile {
  std::string text;
  std::string trouble;  ///< why there is no text, in words for the user; empty = all is well
};

/// Never throws for what may be wrong with a file: missing, a folder, unreadable, binary, too long.
TextFile read_text(const std::string& path, const TextLimits& limits);

/// What is wrong with a text as a whole (binary, too long); empty when nothing is.
std::string text_trouble(const std::string& text, const TextLimits& limits);

}  // namespace eyebrow
