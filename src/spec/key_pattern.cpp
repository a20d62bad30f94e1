#include "spec/key_pattern.hpp"

#include "spec/overrides.hpp"

namespace eyebrow {
namespace {

bool fits_parts(const std::vector<std::string>& key, const std::vector<std::string>& pattern) {
  if (key.size() != pattern.size()) return false;
  for (std::size_t i = 0; i < key.size(); ++i)
    if (pattern[i] != "*" && pattern[i] != key[i]) return false;
  return true;
}

}  // namespace

bool fits_pattern(const std::vector<std::string>& key, std::string_view pattern) {
  std::vector<std::string> parts = parts_of(std::string(pattern));
  if (fits_parts(key, parts)) return true;
  const bool nameless = pattern.starts_with("cam.*") || pattern.starts_with("running.chain.*");
  if (!nameless) return false;
  parts.erase(parts.begin() + (pattern.starts_with("cam.*") ? 1 : 2));
  return fits_parts(key, parts);
}

}  // namespace eyebrow
