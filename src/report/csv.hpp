// Comma-separated values: RFC 4180 quoting, lines end in a single newline.
#pragma once
#include <string>

namespace eyebrow {

inline std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + '"';
}

}  // namespace eyebrow
