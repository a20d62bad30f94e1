#include "eyebrow/engine.hpp"

namespace eyebrow {
namespace {

/// The origin of `key`, of its nearest parent, or of the first key inside that parent; null when there is none.
/// A table of the top level ("pocket") holds other things' keys, so what is inside it does not count.
const Origin* origin_near(const Origins& origins, std::string key) {
  while (true) {
    if (const auto found = origins.find(key); found != origins.end()) return &found->second;
    const std::string inside = key + '.';
    const auto first = origins.lower_bound(inside);
    const bool has_inside = first != origins.end() && first->first.starts_with(inside);
    if (has_inside && key.find('.') != std::string::npos) return &first->second;
    const auto dot = key.rfind('.');
    if (dot == std::string::npos) return nullptr;
    key.resize(dot);
  }
}

}  // namespace

std::vector<Fault> place(std::vector<Fault> faults, const Origins& origins) {
  for (Fault& fault : faults) {
    if (fault.key.empty() || !fault.file.empty()) continue;
    if (const Origin* origin = origin_near(origins, fault.key)) {
      fault.file = origin->file;
      fault.line = origin->line;
      fault.column = origin->column;
    }
  }
  return faults;
}

}  // namespace eyebrow
