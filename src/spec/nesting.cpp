#include "spec/nesting.hpp"

namespace eyebrow {
namespace {

/// Index just behind the string that opens at `at` (a quote), or the end of its line when it does not close.
std::size_t behind_string(std::string_view text, std::size_t at) {
  const char quote = text[at];
  const std::string_view three = text.substr(at, 3);
  const bool multi = three.size() == 3 && three[1] == quote && three[2] == quote;
  std::size_t i = at + (multi ? 3 : 1);
  for (; i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (multi) {
      if (text.substr(i, 3) != three) continue;
      i += 3;  // one or two quotes may stand just inside the closing three
      for (int inside = 0; inside < 2 && i < text.size() && text[i] == quote; ++inside) ++i;
      return i;
    } else if (text[i] == quote) {
      return i + 1;
    } else if (text[i] == '\n') {
      return i;
    }
  }
  return text.size();
}

}  // namespace

std::optional<TextPosition> first_too_deep(std::string_view text) {
  TextPosition position;
  std::size_t line_start = 0;
  int brackets = 0, dots = 0;
  std::size_t i = 0;
  while (i < text.size()) {
    const char c = text[i];
    std::size_t next = i + 1;
    switch (c) {
      case '"':
      case '\'':
        next = behind_string(text, i);
        break;
      case '#':
        while (next < text.size() && text[next] != '\n') ++next;
        break;
      case '[':
      case '{':
        ++brackets;
        dots = 0;
        break;
      case ']':
      case '}':
        if (brackets > 0) --brackets;
        dots = 0;
        break;
      case '.':
        ++dots;
        break;
      case '=':
      case ',':
      case '\n':
        dots = 0;
        break;
      default:
        break;
    }
    if (brackets > kMostNesting || dots > kMostNesting) {
      position.column = static_cast<int>(i - line_start) + 1;
      return position;
    }
    for (; i < next && i < text.size(); ++i) {
      if (text[i] == '\n') {
        ++position.line;
        line_start = i + 1;
      }
    }
  }
  return std::nullopt;
}

}  // namespace eyebrow
