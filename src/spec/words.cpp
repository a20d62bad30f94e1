#include "spec/words.hpp"

namespace eyebrow {

const char* to_string(Role role) { return role == Role::intake ? "intake" : "exhaust"; }

const char* to_string(LengthUnit unit) { return unit == LengthUnit::mm ? "mm" : "in"; }

std::optional<Role> role_from_name(const std::string& name) {
  if (name.rfind("intake", 0) == 0) return Role::intake;
  if (name.rfind("exhaust", 0) == 0) return Role::exhaust;
  return std::nullopt;
}

}  // namespace eyebrow
