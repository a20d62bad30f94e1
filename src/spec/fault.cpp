#include "eyebrow/fault.hpp"

#include <fmt/format.h>

namespace eyebrow {
namespace {

std::string all(const std::vector<Fault>& faults) {
  std::string text;
  for (const Fault& fault : faults) {
    if (!text.empty()) text += '\n';
    text += to_string(fault);
  }
  return text;
}

}  // namespace

std::string to_string(const Fault& fault) {
  if (fault.file.empty()) return fault.message;
  if (fault.line == 0) return fmt::format("{}: {}", fault.file, fault.message);
  if (fault.column == 0) return fmt::format("{}:{}: {}", fault.file, fault.line, fault.message);
  return fmt::format("{}:{}:{}: {}", fault.file, fault.line, fault.column, fault.message);
}

InputError::InputError(std::vector<Fault> faults) : Error(all(faults)), faults_(std::move(faults)) {}

}  // namespace eyebrow
