// What to write instead, for the slips that TOML refuses in words of its own.
#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace eyebrow {

struct TomlHint {
  int line = 0, column = 0;  ///< of the piece to change; column in characters, as the library counts
  std::string text;          ///< "write a decimal point: 4.125"
};

/// For the place where the library stopped, and its words. Null when the slip is none of the known ones.
std::optional<TomlHint> toml_hint(std::string_view text, int line, std::string_view trouble);

}  // namespace eyebrow
