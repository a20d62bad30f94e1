// In which of their inputs engine files differ.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/spec.hpp"

namespace eyebrow {

/// Something that two or more engine files do not all state alike.
struct DifferingInput {
  /// What each file states, in the order of the files.
  struct Stated {
    std::string text;    ///< as a reader wants it: "1.72 in", "\"lobe\"", "4 rows"; empty = it does not state it
    double value = NAN;  ///< of a number, in `unit`; NaN = no single number
    std::string unit;    ///< as given, or the file's default; empty: a plain number, or no number
  };
  std::string key;  ///< dotted; of a whole table or list where that is told as one
  std::vector<Stated> stated;
  std::vector<std::string> also;  ///< keys that take it over by `like` in every file
  /// They state the same thing by other keys. Do all come to the same (1e-6 mm or radians)? `unknown`: that does not
  /// show in single numbers (how a lobe lifts).
  enum class OtherKeys { no, same, different, unknown } other_keys = OtherKeys::no;
};

/// Every such input, by tables in the order of the first file; those that it lacks behind them. Numbers are compared,
/// whatever their units, to 1e-9 of their size; reading errors are not. What only some file has is told of a whole
/// table at once, and so is a list whose lengths differ or that differs in more than `most_of_list` numbers. The name,
/// the default unit, [tolerance] and [each_cylinder] are not looked at: they move no part of the file's own engine.
std::vector<DifferingInput> differing_inputs(const std::vector<const EngineFile*>& files, std::size_t most_of_list = 4);

}  // namespace eyebrow
