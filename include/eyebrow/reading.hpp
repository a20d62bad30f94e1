// The numbers of an engine file that state a reading error, and the same file with a number moved.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/spec.hpp"

namespace eyebrow {

/// A number that was read with an error. It lies anywhere within value -+ error.
struct Reading {
  std::string key;                     ///< dotted, where it is written
  double value = 0, error = 0;         ///< in the inner unit (mm, radians, ...); error > 0
  std::string unit = {};               ///< of the number as given ("in", "deg"); empty: a plain number
  double value_in_unit = 0;            ///< the two in that unit
  double error_in_unit = 0;            ///< also where the error was given in another
  std::vector<std::string> also = {};  ///< keys that take it over by `like`, and move with it
};

/// Each written number that has an error, once, in the order of the keys.
std::vector<Reading> readings(const Origins& origins);

/// The number of `key` moved by so much (inner unit), in the unit as given, without its error: read back it is
/// origin.value + by, and the very same number for by = 0. A number with a side ("29 BTDC") is written with its sign,
/// which says the same. Numbers that are like it move with it. Where the file states a thing in two ways (rim_height
/// and flush_lift), only this one moves, and the reader judges whether they still agree; and where a table has both by
/// `like`, stating one of them as its own leaves the other behind.
/// Throws std::logic_error where the origin has no number.
Override moved(const std::string& key, const Origin& origin, double by);

}  // namespace eyebrow
