// A number with its unit, as people write it: 4.03, "0.041 in", "1.04 mm", "23 deg", "3-3/4 in", "480 g"; and with the
// error of its reading: "0.560 in ± 0.005".
#pragma once
#include <optional>
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

/// A number with what stands behind its ±, each with the unit that stands beside it.
struct QuantityAndError {
  Quantity value;
  std::optional<Quantity> error = {};
};

/// The text before and behind its first ±, +/- or +-. Null: it has none.
struct AtError {
  std::string_view before, behind;
};
std::optional<AtError> split_at_error(std::string_view text);

/// As parse_quantity(), and an error behind ±, +/- or +-: "0.560 in ± 0.005", "3-3/4 ± 1/64 in".
std::variant<QuantityAndError, QuantityTrouble> parse_with_error(std::string_view text, Measure measure);

/// `value` (in the program's inner unit) in `unit`, six significant digits: "4.03 in".
std::string quantity_text(double value, Unit unit);

}  // namespace eyebrow
