#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <stdexcept>

#include "eyebrow/reading.hpp"
#include "spec/units.hpp"

namespace eyebrow {
namespace {

/// The number, in this unit, that reads back as `value`. The quotient is rounded, and so is the product that it is read
/// to: more than one number, or a neighbour of the quotient alone, may read back so. The one with the fewest digits is
/// what was written.
double number_in(double value, Unit unit) {
  const double size = factor(unit), number = value / size;
  double best = number;
  std::size_t least = SIZE_MAX;
  for (const double one : {number, std::nextafter(number, -INFINITY), std::nextafter(number, INFINITY)}) {
    const std::size_t digits = fmt::formatted_size("{}", one);
    if (one * size != value || digits >= least) continue;
    best = one;
    least = digits;
  }
  return best;
}

}  // namespace

std::vector<Reading> readings(const Origins& origins) {
  std::vector<Reading> found;
  for (const auto& [key, origin] : origins) {
    if (!(origin.error > 0) || !origin.taken_from.empty()) continue;
    const Unit unit = unit_from_word(origin.unit).value_or(Unit::none);
    Reading one{key, origin.value, origin.error, origin.unit};
    one.value_in_unit = number_in(origin.value, unit);
    one.error_in_unit = number_in(origin.error, unit);
    for (const auto& [other, like] : origins)
      if (like.taken_from == key) one.also.push_back(other);
    found.push_back(std::move(one));
  }
  return found;
}

Override moved(const std::string& key, const Origin& origin, double by) {
  if (std::isnan(origin.value)) throw std::logic_error("no number stands under " + key);
  const Unit unit = unit_from_word(origin.unit).value_or(Unit::none);
  // As many digits as tell it from every other number.
  const std::string number = fmt::format("{}", number_in(origin.value + by, unit));
  return {key, unit == Unit::none ? number : number + " " + to_string(unit)};
}

}  // namespace eyebrow
