// Places of a text as offsets into its bytes.
#pragma once
#include <string_view>

#include "spec/node.hpp"

namespace eyebrow {

/// Where the line and column of `place` are; columns count code points, as the TOML library does. The text's end where
/// they lie beyond it.
std::size_t offset_of(std::string_view text, const Place& place);

/// Begin of the line that holds the offset, and just behind its last character (the line feed is not in it).
std::size_t line_begin(std::string_view text, std::size_t offset);
std::size_t line_end(std::string_view text, std::size_t offset);

}  // namespace eyebrow
