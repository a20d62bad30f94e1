#include "spec/context.hpp"

namespace eyebrow {

Place Context::place_of(const std::string& key) const {
  if (const auto found = origins.find(key); found != origins.end())
    return {found->second.file, found->second.line, found->second.column};
  std::string table = key;
  for (;;) {
    if (const auto found = tables.find(table); found != tables.end()) return found->second;
    const auto dot = table.rfind('.');
    if (dot == std::string::npos) return {file, 0, 0};
    table.resize(dot);
  }
}

}  // namespace eyebrow
