// A number as the file has it, with its unit settled and the error of its reading, before it is held against anything.
#pragma once
#include <optional>
#include <string>

#include "spec/context.hpp"

namespace eyebrow {

struct Measured {
  double value = 0;        ///< in the program's inner unit; infinite or NaN where the user wrote that
  double error = 0;        ///< half-width, inner unit; 0 = none stated
  Unit unit = Unit::none;  ///< as given, or what a bare number is in
  bool bare = false;       ///< no unit was given
};

/// A bare number is in the file's default unit, or degrees. A bare error is in the unit of its number; a bare number
/// before an error that has a unit is in that unit, and refused where that is not what a bare number is in. nullopt = a
/// fault, and told; or the default unit is faulty, which is told. `key`: as messages name it.
std::optional<Measured> read_measured(Context& context, const std::string& key, const Node& value, Measure measure);

}  // namespace eyebrow
