// What the readers of the sections share: the file, its default unit, and all that was found wrong.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/tolerance.hpp"
#include "spec/limits.hpp"
#include "spec/node.hpp"
#include "spec/quantity.hpp"

namespace eyebrow {

struct Context {
  std::string file;                 ///< as the user named it
  std::optional<LengthUnit> units;  ///< the file's default
  bool units_faulty = false;        ///< it is stated wrong, and told: numbers that need it are not judged
  int bare_lengths = 0;             ///< lengths that carry no unit
  int other_unit_fits = 0;  ///< of these, refused ones that the unit other than the default would make plausible
  Origins origins;
  std::map<std::string, const Limit*> numbers;  ///< every number that the file states, faulty ones too
  std::vector<Tolerance> tolerances;
  std::map<std::string, Place> tables;  ///< dotted path of each table to its header
  std::vector<Fault> faults, warnings;

  void fault(const Place& place, std::string message) { faults.push_back(fault_at(place, std::move(message))); }
  void warn(const Place& place, std::string message) { warnings.push_back(fault_at(place, std::move(message))); }

  /// Of the number or word; else of the table that it is missing from; else of the file.
  Place place_of(const std::string& key) const;
  bool given(const std::string& key) const { return origins.count(key) != 0; }

  /// A length in the file's default unit, for messages.
  std::string length_text(double mm) const { return quantity_text(mm, unit_of(units.value_or(LengthUnit::mm))); }
};

}  // namespace eyebrow
