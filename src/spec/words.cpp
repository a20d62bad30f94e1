#include "spec/words.hpp"

namespace eyebrow {

const char* to_string(Role role) {
  return role == Role::intake ? "intake" : "exhaust";
}

const char* to_string(LengthUnit unit) {
  return unit == LengthUnit::mm ? "mm" : "in";
}

std::optional<Role> role_from_name(const std::string& name) {
  if (name.rfind("intake", 0) == 0) return Role::intake;
  if (name.rfind("exhaust", 0) == 0) return Role::exhaust;
  return std::nullopt;
}

std::string clipped(std::string_view text) {
  constexpr std::size_t kMost = 60;
  std::size_t size = text.size();
  if (size > kMost) {
    size = kMost;
    while (size > 0 && (static_cast<unsigned char>(text[size]) & 0xC0) == 0x80) --size;  // not within a UTF-8 sign
  }
  std::string out(text.substr(0, size));
  for (char& c : out)
    if (static_cast<unsigned char>(c) < 0x20) c = ' ';
  return size < text.size() ? out + "..." : out;
}

std::vector<std::string> cam_names(const Engine& engine) {
  std::vector<std::string> names;
  for (const Cam& cam : engine.cams) names.push_back(cam.name);
  return names;
}

}  // namespace eyebrow
