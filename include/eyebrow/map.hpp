// Least gaps over a range of one input or two: what moves them, and how far an input may go.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/check.hpp"

namespace eyebrow {

/// One input that is varied: a key of the engine file, in the unit that its values were typed in.
struct Varied {
  std::string key;             ///< dotted, "gasket.thickness"
  std::string unit;            ///< "mm", "in", "deg"; empty: a number without a unit
  std::vector<double> values;  ///< in rising order, at least one
  double now = NAN;            ///< of the engine file, --set included; NaN = it states none
};

/// Which gap a column of numbers is of.
struct MapGap {
  std::string what;   ///< as AskedRow
  std::string valve;  ///< as AskedRow
  double required = 0;
  bool running = false;
};

/// The engine with the inputs at one place of the map.
struct MapCell {
  std::vector<double> found;  ///< one a gap of MapResult::gaps, mm; NaN = there is none. Empty where `trouble` says why
  std::vector<bool> holds;    ///< beside `found`, as AskedRow::holds
  Verdict verdict = Verdict::holds;
  std::string trouble;  ///< why there is no such engine: a number out of range, a crown that cannot be made
  bool possible() const { return trouble.empty(); }
  bool allowed() const { return possible() && verdict == Verdict::holds; }
};

struct MapResult {
  std::string engine;
  LengthUnit units = LengthUnit::mm;
  std::vector<Varied> inputs;  ///< one or two
  std::vector<MapGap> gaps;
  std::vector<MapCell> cells;        ///< of the first input's value i and the second's k: cells[i + k * (number of i)]
  std::vector<std::string> changed;  ///< as Conditions::changed
  const MapCell& at(std::size_t i, std::size_t k = 0) const { return cells[i + k * inputs.front().values.size()]; }
};

}  // namespace eyebrow
