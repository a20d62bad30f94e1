// `--set key=value`: written into the tree of the file before anything is read.
#pragma once
#include <vector>

#include "eyebrow/spec.hpp"
#include "spec/node.hpp"

namespace eyebrow {

inline constexpr const char* kSetFile = "--set";  ///< stands for the file in the places of overridden values

/// Writes the overrides into the tree; the last of two on one key wins. Items of a list are counted from 1
/// ("lobe.intake.durations.2.duration"). A key that is not there is added, so that the reader judges its name; a
/// named table ([valve.NAME]) is never added.
/// Those that reach into something which a table may yet take from another by `like` are handed back, to be applied
/// after that (`deferred` null: there is nothing to wait for).
void apply_overrides(Node& root, const std::vector<Override>& overrides, std::vector<Override>* deferred,
                     std::vector<Fault>& faults);

}  // namespace eyebrow
