#include "spec/units.hpp"

#include <algorithm>
#include <iterator>

namespace eyebrow {
namespace {

struct UnitWord {
  std::string_view word;
  Unit unit;
};
constexpr UnitWord kUnitWords[] = {
    {"mm", Unit::mm},
    {"in", Unit::inch},
    {"inch", Unit::inch},
    {"inches", Unit::inch},
    {"\"", Unit::inch},
    {"deg", Unit::degree},
    {"degree", Unit::degree},
    {"degrees", Unit::degree},
    {"\u00b0", Unit::degree},
    {"rad", Unit::radian},
    {"kg", Unit::kilogram},
    {"g", Unit::gram},
    {"lb", Unit::pound},
    {"lbs", Unit::pound},
    {"oz", Unit::ounce},
    {"mm2", Unit::mm2},
    {"mm^2", Unit::mm2},
    {"mm\u00b2", Unit::mm2},
    {"cm2", Unit::cm2},
    {"cm^2", Unit::cm2},
    {"cm\u00b2", Unit::cm2},
    {"in2", Unit::inch2},
    {"in^2", Unit::inch2},
    {"in\u00b2", Unit::inch2},
    {"mm3", Unit::mm3},
    {"mm^3", Unit::mm3},
    {"mm\u00b3", Unit::mm3},
    {"cm3", Unit::cm3},
    {"cm^3", Unit::cm3},
    {"cm\u00b3", Unit::cm3},
    {"cc", Unit::cm3},
    {"ml", Unit::cm3},
    {"in3", Unit::inch3},
    {"in^3", Unit::inch3},
    {"in\u00b3", Unit::inch3},
    {"GPa", Unit::gigapascal},
    {"MPa", Unit::megapascal},
    {"N/mm2", Unit::megapascal},
    {"N/mm\u00b2", Unit::megapascal},
    {"psi", Unit::psi},
    {"K", Unit::kelvin},
    {"C", Unit::kelvin},
    {"\u00b0C", Unit::kelvin},
    {"F", Unit::fahrenheit},
    {"\u00b0F", Unit::fahrenheit},
    {"/K", Unit::per_kelvin},
    {"1/K", Unit::per_kelvin},
    {"/C", Unit::per_kelvin},
    {"/\u00b0C", Unit::per_kelvin},
    {"/F", Unit::per_fahrenheit},
    {"1/F", Unit::per_fahrenheit},
    {"/\u00b0F", Unit::per_fahrenheit},
};

// The pound is 0.45359237 kg exactly (international yard and pound agreement, 1959), the ounce its sixteenth; standard
// gravity 9.80665 m/s2 makes the pound of force; a degree Fahrenheit is 5/9 of a kelvin.
constexpr double kPound = 0.45359237;
constexpr double kPsi = kPound * 9.80665 / (kInch * kInch);
constexpr double kFahrenheit = 5.0 / 9;

struct UnitRow {
  Unit unit;
  const char* name;
  Measure measure;
  double factor;  ///< of the program's inner unit
};
constexpr UnitRow kUnits[] = {
    {Unit::none, "", Measure::ratio, 1},
    {Unit::mm, "mm", Measure::length, 1},
    {Unit::inch, "in", Measure::length, kInch},
    {Unit::degree, "deg", Measure::angle, kDegree},
    {Unit::radian, "rad", Measure::angle, 1},
    {Unit::kilogram, "kg", Measure::mass, 1},
    {Unit::gram, "g", Measure::mass, 1e-3},
    {Unit::pound, "lb", Measure::mass, kPound},
    {Unit::ounce, "oz", Measure::mass, kPound / 16},
    {Unit::mm2, "mm2", Measure::area, 1},
    {Unit::cm2, "cm2", Measure::area, 100},
    {Unit::inch2, "in2", Measure::area, kInch* kInch},
    {Unit::mm3, "mm3", Measure::volume, 1},
    {Unit::cm3, "cm3", Measure::volume, 1000},
    {Unit::inch3, "in3", Measure::volume, kInch* kInch* kInch},
    {Unit::gigapascal, "GPa", Measure::modulus, 1000},
    {Unit::megapascal, "MPa", Measure::modulus, 1},
    {Unit::psi, "psi", Measure::modulus, kPsi},
    {Unit::kelvin, "K", Measure::warmth, 1},
    {Unit::fahrenheit, "F", Measure::warmth, kFahrenheit},
    {Unit::per_kelvin, "/K", Measure::expansion, 1},
    {Unit::per_fahrenheit, "/F", Measure::expansion, 1 / kFahrenheit},
};

const UnitRow& row_of(Unit unit) {
  return *std::find_if(std::begin(kUnits), std::end(kUnits), [&](const UnitRow& row) { return row.unit == unit; });
}

}  // namespace

std::optional<Unit> unit_from_word(std::string_view word) {
  for (const UnitWord& known : kUnitWords)
    if (word == known.word) return known.unit;
  return std::nullopt;
}

const char* to_string(Unit unit) {
  return row_of(unit).name;
}

Measure measure_of(Unit unit) {
  return row_of(unit).measure;
}

double factor(Unit unit) {
  return row_of(unit).factor;
}

Unit unit_of(LengthUnit unit) {
  return unit == LengthUnit::mm ? Unit::mm : Unit::inch;
}

const char* to_string(Measure measure) {
  switch (measure) {
    case Measure::length:
      return "a length";
    case Measure::angle:
      return "an angle";
    case Measure::ratio:
      return "a plain number";
    case Measure::mass:
      return "a mass";
    case Measure::area:
      return "an area";
    case Measure::volume:
      return "a volume";
    case Measure::modulus:
      return "a modulus of elasticity";
    case Measure::warmth:
      return "a difference of temperature";
    case Measure::expansion:
      return "a coefficient of expansion";
  }
  return "?";
}

const char* units_text(Measure measure) {
  switch (measure) {
    case Measure::length:
      return "mm, in, thou";
    case Measure::angle:
      return "deg, rad";
    case Measure::ratio:
      break;
    case Measure::mass:
      return "kg, g, lb, oz";
    case Measure::area:
      return "mm2, cm2, in2";
    case Measure::volume:
      return "mm3, cm3, cc, in3";
    case Measure::modulus:
      return "GPa, MPa, psi";
    case Measure::warmth:
      return "K, C, F";
    case Measure::expansion:
      return "/K, /C, /F";
  }
  return "none: it is a plain number";
}

Unit usual_unit(Measure measure, LengthUnit file) {
  const bool mm = file == LengthUnit::mm;
  switch (measure) {
    case Measure::length:
      return unit_of(file);
    case Measure::angle:
      return Unit::degree;
    case Measure::ratio:
      return Unit::none;
    case Measure::mass:
      return mm ? Unit::kilogram : Unit::pound;
    case Measure::area:
      return mm ? Unit::mm2 : Unit::inch2;
    case Measure::volume:
      return Unit::cm3;
    case Measure::modulus:
      return Unit::gigapascal;
    case Measure::warmth:
      return mm ? Unit::kelvin : Unit::fahrenheit;
    case Measure::expansion:
      return mm ? Unit::per_kelvin : Unit::per_fahrenheit;
  }
  return Unit::none;
}

}  // namespace eyebrow
