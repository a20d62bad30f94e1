// Faults and warnings on the standard error, one a line.
#pragma once
#include <set>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow::cli {

/// "file:line:column: message". `input`: the file that a fault without a place of its own is about.
void tell(const std::vector<Fault>& faults, const std::string& input);

/// "eyebrow: message".
void tell(const std::string& message);

/// Runs `work`; what it finds wrong with the input gets its place in the engine file.
template <class Work>
auto with_places(const Origins& origins, const Work& work) {
  try {
    return work();
  } catch (const InputError& error) {
    throw InputError(place(error.faults(), origins));
  }
}

/// Tells each warning once and keeps it for the report.
class Warnings {
 public:
  /// `input`: as for tell.
  explicit Warnings(std::string input) : input_(std::move(input)) {}
  void add(const std::vector<Fault>& warnings);
  const std::vector<Fault>& all() const { return all_; }

 private:
  std::string input_;
  std::vector<Fault> all_;
  std::set<std::string> told_;
};

/// Tells that the engine file states tolerances, which a check or a map of single engines has no use for.
void warn_of_tolerances(const EngineFile& file, Warnings& warnings);

}  // namespace eyebrow::cli
