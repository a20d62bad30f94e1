// A guard in front of the TOML library: it builds and destroys dotted keys by recursion and overflows the stack on a
// key of 100,000 parts (seen in 3.3.0; brackets it limits by itself).
#pragma once
#include <optional>
#include <string_view>

namespace eyebrow {

/// An engine file needs 4 levels; 32 leaves room for mistakes that deserve a better message than "too deep".
inline constexpr int kMostNesting = 32;

struct TextPosition {
  int line = 1, column = 1;
};

/// Where brackets or the dots of one key first go deeper than kMostNesting. Text in quotes and comments is skipped.
std::optional<TextPosition> first_too_deep(std::string_view text);

}  // namespace eyebrow
