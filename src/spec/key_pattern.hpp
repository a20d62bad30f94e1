// Keys of an engine file against the patterns of the table of limits.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace eyebrow {

/// Does the dotted key, or its beginning of as many parts, fit the pattern? A '*' is any one part; that of "cam.*" and
/// "running.chain.*" may be lacking, as a single cam has no name.
bool fits_pattern(const std::vector<std::string>& key, std::string_view pattern);

}  // namespace eyebrow
