#include "solid/step_text.hpp"

#include <charconv>
#include <cstdint>
#include <unordered_set>

#include <fmt/format.h>

namespace eyebrow {

std::string step_trouble(const std::string& text) {
  const std::size_t size = text.size();
  std::size_t i = text.find("DATA");
  if (i == std::string::npos) return "it has no DATA section";
  std::unordered_set<std::uint64_t> defined, named;
  while (i < size) {
    const char c = text[i];
    if (c == '\'') {  // a string; a doubled quote in it opens the next at once
      const std::size_t end = text.find('\'', i + 1);
      if (end == std::string::npos) return "a text in it has no end";
      i = end + 1;
    } else if (c == '/' && i + 1 < size && text[i + 1] == '*') {
      const std::size_t end = text.find("*/", i + 2);
      if (end == std::string::npos) return "a comment in it has no end";
      i = end + 2;
    } else if (c == '#') {
      std::uint64_t number = 0;
      const auto [end, error] = std::from_chars(text.data() + i + 1, text.data() + size, number);
      if (error != std::errc() || number == 0 || number > INT32_MAX) return "an instance in it has no number";
      i = static_cast<std::size_t>(end - text.data());
      const std::size_t next = text.find_first_not_of(" \t\r\n", i);
      if (next == std::string::npos || text[next] != '=')
        named.insert(number);
      else if (!defined.insert(number).second)
        return fmt::format("#{} is defined twice", number);
    } else {
      ++i;
    }
  }
  for (const std::uint64_t number : named)
    if (!defined.contains(number)) return fmt::format("#{} is named, and not defined", number);
  return "";
}

}  // namespace eyebrow
