// Faults and warnings on the standard error, one a line.
#pragma once
#include <set>
#include <string>
#include <vector>

#include "eyebrow/fault.hpp"

namespace eyebrow::cli {

/// "file:line:column: message".
void tell(const std::vector<Fault>& faults);

/// "eyebrow: message".
void tell(const std::string& message);

/// Tells each warning once and keeps it for the report.
class Warnings {
 public:
  void add(const std::vector<Fault>& warnings);
  const std::vector<Fault>& all() const { return all_; }

 private:
  std::vector<Fault> all_;
  std::set<std::string> told_;
};

}  // namespace eyebrow::cli
