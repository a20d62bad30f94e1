// The units that numbers of the engine file come in, and what they measure.
#pragma once
#include <optional>
#include <string_view>

#include "eyebrow/engine.hpp"

namespace eyebrow {

/// What a number measures. Inside the program: mm, radians, plain, kg, mm2, mm3, N/mm2, K (a difference), 1/K.
enum class Measure { length, angle, ratio, mass, area, volume, modulus, warmth, expansion };
const char* to_string(Measure measure);

enum class Unit {
  none,
  mm,
  inch,
  degree,
  radian,
  kilogram,
  gram,
  pound,
  ounce,
  mm2,
  cm2,
  inch2,
  mm3,
  cm3,
  inch3,
  gigapascal,
  megapascal,
  psi,
  kelvin,
  fahrenheit,
  per_kelvin,
  per_fahrenheit
};

/// mm, in (inch, inches, "), deg (degree, degrees, the degree sign), rad; kg, g, lb, oz; mm2, cm2, in2; mm3, cm3 (cc,
/// ml), in3; GPa, MPa (N/mm2), psi; K (C), F; /K (/C), /F. Null for any other word.
std::optional<Unit> unit_from_word(std::string_view word);

/// "mm", "in", "deg", "kg", ...; empty for none.
const char* to_string(Unit unit);

Unit unit_of(LengthUnit unit);

/// What a number in this unit measures; a ratio for none.
Measure measure_of(Unit unit);

/// The unit that messages about a measure use, in a file of this default.
Unit usual_unit(Measure measure, LengthUnit file);

/// "kg, g, lb, oz".
const char* units_text(Measure measure);

/// Of the program's inner unit in one unit; 1 for none.
double factor(Unit unit);

}  // namespace eyebrow
