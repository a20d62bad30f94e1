// A number with its unit, as people write it: 4.03, "0.041 in", "1.04 mm", "23 deg", "3-3/4 in", "480 g".
#pragma once
#include <string>
#include <string_view>
#include <variant>

#include "spec/units.hpp"

namespace eyebrow {

struct Quantity {
  double number = 0;
  Unit unit = Unit::none;
};

/// What is wrong with the text, in words for the user.
struct QuantityTrouble {
  std::string what;
};

/// Units known: those of unit_from_word(). `measure`: whose units are offered where the text has none of these.
std::variant<Quantity, QuantityTrouble> parse_quantity(std::string_view text, Measure measure = Measure::length);

/// `value` (in the program's inner unit) in `unit`, six significant digits: "4.03 in".
std::string quantity_text(double value, Unit unit);

}  // namespace eyebrow
