#include "solid/faults.hpp"

#include <fmt/format.h>

namespace eyebrow {

Fault fault_at(const Origins& origins, const std::string& key, std::string message) {
  return place({{"", 0, 0, std::move(message), key}}, origins).front();
}

std::string length_text(double mm, LengthUnit unit) {
  return unit == LengthUnit::inch ? fmt::format("{:.4f} in", mm / kInch) : fmt::format("{:.3f} mm", mm);
}

}  // namespace eyebrow
