#include "spec/text_headers.hpp"

#include "spec/overrides.hpp"
#include "spec/text_place.hpp"

namespace eyebrow {

bool has_header(std::string_view text, const Node& table, const std::string& path) {
  const std::size_t begin = offset_of(text, table.place);
  if (path.empty() || begin >= text.size() || text[begin] != '[') return false;
  const std::size_t close = text.find(']', begin);
  if (close == std::string_view::npos) return false;
  std::string written;
  for (std::string part : parts_of(std::string(text.substr(begin + 1, close - begin - 1)))) {
    if (part.size() > 1 && (part.front() == '"' || part.front() == '\'')) part = part.substr(1, part.size() - 2);
    written += (written.empty() ? "" : ".") + part;
  }
  return written == path;
}

}  // namespace eyebrow
