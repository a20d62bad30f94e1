// The surfaces of a stack: which engines they are made of, and how far they are off.
#pragma once
#include <vector>

#include "study/stack_engines.hpp"
#include "study/stack_surface.hpp"

namespace eyebrow::study {

struct StackFitted {
  enum class Kind {
    nowhere,  ///< there is no such gap
    surface,
    exact,  ///< the gap comes and goes: no surface
  };
  Kind kind = Kind::nowhere;
  StackSurface surface;
  double residual = 0, residual_rms = 0;  ///< over the checks, mm
  /// To be allowed for.
  double room() const;
};

/// How far each driver can go, each way: 1, or less where there is no engine further out.
struct StackReach {
  std::vector<double> down, up;
  StackPoint within(StackPoint point) const;
};

struct StackFit {
  std::vector<StackFitted> gaps;
  StackReach reach;
  std::vector<StackPoint> checks;  ///< drawn at random
};

StackFit fit_stack(StackEngines& engines, std::size_t drivers, std::size_t gaps, std::uint64_t seed);

}  // namespace eyebrow::study
