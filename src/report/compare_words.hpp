// What the parts of a comparison's text share.
#pragma once
#include <cmath>
#include <string>

#include "eyebrow/compare.hpp"
#include "words.hpp"

namespace eyebrow {

/// Rounded to nearest, with its sign; what rounds to nothing is a dot.
inline std::string signed_text(double mm, const Lengths& lengths) {
  if (!std::isfinite(mm)) return "";
  const std::string text = lengths.plain(mm);
  if (text == lengths.plain(0)) return ".";
  return mm > 0 ? '+' + text : text;
}

/// A table's row without the blanks that it ends with.
inline std::string table_line(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line + '\n';
}

/// Where the valves land; a line where that is everywhere as in the first engine.
std::string landings_text(const Comparison& comparison, const Lengths& lengths, const Format& format);

}  // namespace eyebrow
