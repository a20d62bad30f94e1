// A number with its unit, as people write it: 4.03, "0.041 in", "1.04 mm", "23 deg", "3-3/4 in".
#pragma once
#include <string>
#include <string_view>
#include <variant>

#include "eyebrow/engine.hpp"

namespace eyebrow {

enum class Unit { none, mm, inch, degree, radian };

struct Quantity {
  double number = 0;
  Unit unit = Unit::none;
};

/// What is wrong with the text, in words for the user.
struct QuantityTrouble {
  std::string what;
};

/// Units known: mm, in (inch, inches, "), deg (degree, degrees, the degree sign), rad.
std::variant<Quantity, QuantityTrouble> parse_quantity(std::string_view text);

/// "mm", "in", "deg", "rad"; empty for none.
const char* to_string(Unit unit);

Unit unit_of(LengthUnit unit);

/// mm or radians in one unit; 1 for none.
double factor(Unit unit);

/// `value` (mm or radians) in `unit`, six significant digits: "4.03 in".
std::string quantity_text(double value, Unit unit);

}  // namespace eyebrow
