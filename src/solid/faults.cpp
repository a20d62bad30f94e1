#include "solid/faults.hpp"

#include <fmt/format.h>

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

Fault fault_at(const Origins& origins, const std::string& key, std::string message) {
  Fault fault;
  if (const Origin* origin = origin_near(origins, key)) {
    fault.file = origin->file;
    fault.line = origin->line;
    fault.column = origin->column;
  }
  fault.message = std::move(message);
  return fault;
}

std::string length_text(double mm, LengthUnit unit) {
  return unit == LengthUnit::inch ? fmt::format("{:.4f} in", mm / kInch) : fmt::format("{:.3f} mm", mm);
}

}  // namespace eyebrow
