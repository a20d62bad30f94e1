// Names that mean something by themselves.
#pragma once
#include <optional>
#include <string>

#include "eyebrow/engine.hpp"

namespace eyebrow {

/// The role that a name tells: it is or starts with "intake" or "exhaust".
std::optional<Role> role_from_name(const std::string& name);

}  // namespace eyebrow
