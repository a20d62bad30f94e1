// A valve's shape taken from a STEP file (ISO 10303-21) in place of its numbers.
#pragma once
#include <memory>
#include <string>

namespace eyebrow {

struct StepValve {
  std::string file;                         ///< path, as it was opened
  std::shared_ptr<const std::string> text;  ///< all of the file
  std::string solid;                        ///< which, by name or number; empty = the one that fits
};

}  // namespace eyebrow
