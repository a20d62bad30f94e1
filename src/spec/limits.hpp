// What every number of the engine file may be, in one table.
#pragma once
#include <span>
#include <string>
#include <string_view>

#include "spec/quantity.hpp"

namespace eyebrow {

/// The plausible range of one key. Outside of it a number is more likely a slip than an engine.
struct Limit {           // NOLINT(clang-analyzer-optin.performance.Padding): in the order of the table
  std::string_view key;  ///< dotted, with * for a name or the number of an item
  Measure measure;
  double low, high;      ///< degrees for an angle, else in the program's inner unit; both allowed
  std::string_view why;  ///< the reason, as the message gives it
  bool or_zero = false;  ///< 0 (none) is allowed too
  bool counted = false;  ///< a whole number that is counted, not measured
};

/// Throws std::logic_error for a key that the table lacks.
const Limit& limit_of(std::string_view pattern);

/// Every row of the table.
std::span<const Limit> all_limits();

/// "12 mm to 700 mm (model engines to medium-speed diesels)", in `unit`.
std::string allowed_text(const Limit& limit, Unit unit);

/// Would the number be allowed in the unit that is mixed up with its own: inches for mm, g for kg, the reverse of both,
/// degrees for radians?
bool fits_in_other_unit(const Limit& limit, double value, Unit unit);

/// Empty when `value` (in the inner unit) is allowed; else "is 4.03 mm; allowed is ...: did you mean 4.03 in?".
/// `unit` is the one it was given in.
std::string limit_trouble(const Limit& limit, double value, Unit unit);

/// Empty when all within value -+ reach is allowed, where `value` is; else "less its reading error is -0.2 mm; allowed
/// is ...". `what` it is that reaches so far.
std::string reach_trouble(const Limit& limit, double value, double reach, Unit unit, const std::string& what);

}  // namespace eyebrow
