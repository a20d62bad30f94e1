// Which tables of a text have a header of their own.
#pragma once
#include <string>
#include <string_view>

#include "spec/node.hpp"

namespace eyebrow {

/// Does a line "[path]" begin this table? Not so for one in braces, one that dotted keys made, and one that is there
/// only because a table within it has a header.
bool has_header(std::string_view text, const Node& table, const std::string& path);

}  // namespace eyebrow
