// What [piston.step] and [valve.NAME.step] have in common: the file.
#pragma once
#include <memory>
#include <string>

#include "spec/section.hpp"

namespace eyebrow {

struct StepFileRead {
  std::string file;                         ///< path, as it was opened
  std::shared_ptr<const std::string> text;  ///< never null
  std::string solid;                        ///< by name or number; empty = not stated
};

/// Reads `file` and `solid`: the file whole, and nothing in it: that is for the modeller.
StepFileRead read_step_file(Context& context, Section& section);

}  // namespace eyebrow
