// Engines drawn at random, their gaps read from the surfaces.
#pragma once
#include <functional>
#include <vector>

#include "study/stack_fit.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

class StackSamples {
 public:
  /// `there`: one a sample, whether there is such an engine; empty = there is, always.
  StackSamples(const StackDrivers& drivers, const StackFit& fit, const StackOptions& options, std::vector<char> there)
      : drivers_(drivers), fit_(fit), options_(options), there_(std::move(there)) {}

  /// A gap, its value on the surface and where that is, to the value that no sample of the gap is below.
  using Floor = std::function<double(std::size_t gap, double value, const StackPoint& point)>;
  /// Fills what is told of the samples. `floor` is asked of each gap's lowest one, from one thread.
  void tell(const Floor& floor, std::vector<StackGap>& gaps, Pacer& pacer) const;
  /// Of gaps with a surface, one a sample; infinite where there is no such engine. `units`: of progress, in all.
  std::vector<std::vector<float>> values(const std::vector<std::size_t>& gaps, Pacer& pacer, double units) const;
  /// Fills parts of the gap, whose deviation is known.
  void tell_parts(std::size_t gap, StackGap& told) const;

 private:
  bool is_there(std::size_t sample) const { return there_.empty() || there_[sample] != 0; }

  const StackDrivers& drivers_;
  const StackFit& fit_;
  const StackOptions& options_;
  std::vector<char> there_;
};

/// Of how many samples some gap is less than its `required` (beside StackJoint::gaps): surely so, by the values as they
/// are, and if each is less by what it may be off.
struct JointlyShort {
  std::size_t surely = 0, below = 0, maybe = 0;
};
JointlyShort jointly_short(const StackJoint& joint, const std::vector<double>& required);

/// What is told of a gap's values, in any order, and of how many of them are below what is asked; each may be `room`
/// off.
void tell_values(std::vector<float>& values, double room, double floor, StackGap& told);

}  // namespace eyebrow::study
