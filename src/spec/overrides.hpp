// Numbers put in place of the file's: `--set key=value` and [each_cylinder]. Written into the tree before anything is
// read.
#pragma once
#include <vector>

#include "eyebrow/spec.hpp"
#include "spec/node.hpp"

namespace eyebrow {

inline constexpr const char* kSetFile = "--set";  ///< stands for the file in the places of overridden values

/// A value on its way into the tree, and the dotted key that it belongs to.
struct Written {
  std::string key;
  Node value;  ///< with the places that messages name: its own, and of its key
};

/// "cylinder . bore" to its parts.
std::vector<std::string> parts_of(const std::string& key);

std::vector<Written> written(const std::vector<Override>& overrides);

/// Writes values into the tree; the last of two on one key wins. Items of a list are counted from 1
/// ("lobe.intake.durations.2.duration"). A key that is not there is added, so that the reader judges its name; a
/// named table ([valve.NAME]) is never added.
/// Those that reach into something which a table may yet take from another by `like` are handed back, to be applied
/// after that (`deferred` null: there is nothing to wait for).
void apply_overrides(Node& root, const std::vector<Written>& values, std::vector<Written>* deferred,
                     std::vector<Fault>& faults);

}  // namespace eyebrow
