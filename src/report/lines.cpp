#include "lines.hpp"

#include <sstream>

namespace eyebrow {
namespace {

bool starts_code_point(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
}

int columns_of(const std::string& text) {
  int columns = 0;
  for (const char c : text) columns += starts_code_point(c);
  return columns;
}

// Bytes of the control character that starts at `at`; 0 = there is none.
std::size_t control_at(const std::string& text, std::size_t at) {
  const auto byte = static_cast<unsigned char>(text[at]);
  if (byte < 0x20 || byte == 0x7F) return 1;
  // U+0080 ... U+009F: some terminals obey them as they obey escape sequences.
  if (byte == 0xC2 && at + 1 < text.size() && static_cast<unsigned char>(text[at + 1]) < 0xA0) return 2;
  return 0;
}

}  // namespace

std::string printable(const std::string& name, int columns) {
  const bool cut = columns_of(name) > columns;
  int left = cut ? columns - 3 : columns;
  std::string out;
  for (std::size_t i = 0; i < name.size(); ++i) {
    if (starts_code_point(name[i]) && left-- == 0) break;
    const std::size_t control = control_at(name, i);
    out += control > 0 ? '?' : name[i];
    if (control > 1) ++i;
  }
  return cut ? out + "..." : out;
}

std::string padded(const std::string& name, int columns) {
  std::string out = printable(name, columns);
  out.append(static_cast<std::size_t>(columns - columns_of(out)), ' ');
  return out;
}

std::string wrapped(const std::string& first, const std::string& text, int indent) {
  std::string out = first;
  int column = columns_of(first);
  bool fresh = true;  // nothing but the indent on this line yet
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const int width = columns_of(word);
    if (!fresh && column + 1 + width > kWidth) {
      out += '\n' + std::string(static_cast<std::size_t>(indent), ' ');
      column = indent;
      fresh = true;
    }
    if (!fresh) {
      out += ' ';
      ++column;
    }
    out += word;
    column += width;
    fresh = false;
  }
  return out + '\n';
}

}  // namespace eyebrow
