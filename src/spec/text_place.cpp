#include "spec/text_place.hpp"

namespace eyebrow {

std::size_t offset_of(std::string_view text, const Place& place) {
  std::size_t at = 0;
  for (int line = 1; line < place.line; ++line) {
    at = text.find('\n', at);
    if (at == std::string_view::npos) return text.size();
    ++at;
  }
  // A code point's further bytes are 10xxxxxx.
  const auto continues = [&](std::size_t i) { return (static_cast<unsigned char>(text[i]) & 0xc0) == 0x80; };
  for (int column = 1; column < place.column && at < text.size(); ++column) {
    ++at;
    while (at < text.size() && continues(at)) ++at;
  }
  return at;
}

std::size_t line_begin(std::string_view text, std::size_t offset) {
  if (offset == 0) return 0;
  const std::size_t feed = text.rfind('\n', offset - 1);
  return feed == std::string_view::npos ? 0 : feed + 1;
}

std::size_t line_end(std::string_view text, std::size_t offset) {
  std::size_t end = text.find('\n', offset);
  if (end == std::string_view::npos) end = text.size();
  if (end > offset && text[end - 1] == '\r') --end;
  return end;
}

}  // namespace eyebrow
