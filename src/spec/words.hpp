// Names that mean something by themselves.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "eyebrow/engine.hpp"

namespace eyebrow {

/// The role that a name tells: it is or starts with "intake" or "exhaust".
std::optional<Role> role_from_name(const std::string& name);

/// The user's text as a message may repeat it: on one line, and no longer than 60 bytes.
std::string clipped(std::string_view text);

/// Of its cams, in the file's order.
std::vector<std::string> cam_names(const Engine& engine);

}  // namespace eyebrow
