#include "section_given.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "options.hpp"
#include "spec/nearest.hpp"
#include "spec/quantity.hpp"

namespace eyebrow::cli {
namespace {

using scene::Section;

std::optional<double> plain_number(const std::string& text) {
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// "4:30" or "4.5", 0 up to 12.
double hours_given(const std::string& text) {
  const std::size_t colon = text.find(':');
  const std::optional<double> hours = plain_number(text.substr(0, colon));
  const std::optional<double> minutes = colon == std::string::npos ? 0.0 : plain_number(text.substr(colon + 1));
  const bool fits = hours && minutes && *hours >= 0 && *hours <= 12 && *minutes >= 0 && *minutes < 60;
  if (!fits)
    throw UsageError(fmt::format("--section: \"{}\" is no o'clock; allowed: 4, 4:30 or 4.5, from 0 to 12", text));
  return std::fmod(*hours + *minutes / 60, 12);
}

Section square_to_axis(char axis, const std::string& length, LengthUnit unit) {
  const auto read = parse_quantity(length);
  const Quantity* const quantity = std::get_if<Quantity>(&read);
  if (quantity == nullptr)
    throw UsageError(fmt::format("--section: {}: {}", length, std::get<QuantityTrouble>(read).what));
  const Unit meant = quantity->unit == Unit::none ? unit_of(unit) : quantity->unit;
  if (measure_of(meant) != Measure::length)
    throw UsageError(
        fmt::format("--section: \"{}\" is no length; allowed units: {}", length, units_text(Measure::length)));
  const double at = quantity->number * factor(meant);
  Section section;
  section.through = Section::Through::plane;
  // One looks at it from the front's right hand: from +x, from the rear, from above.
  const Vec3 way = axis == 'x' ? Vec3{1, 0, 0} : axis == 'y' ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
  section.plane = {at * way, axis == 'y' ? -way : way};
  return section;
}

}  // namespace

Section section_given(const std::string& text, const Engine& engine) {
  if (text.empty()) return {};
  if (text.size() > 2 && text[1] == '=' && (text[0] == 'x' || text[0] == 'y' || text[0] == 'z'))
    return square_to_axis(text[0], text.substr(2), engine.units);
  const std::size_t at = text.find('@');
  const std::string name = text.substr(0, at);
  std::vector<std::string> names;
  Section section;
  section.through = Section::Through::valve;
  for (const Valve& valve : engine.valves) {
    if (valve.name == name) {
      section.valve = static_cast<int>(names.size());
      if (at != std::string::npos) section.clock = hours_given(text.substr(at + 1));
      return section;
    }
    names.push_back(valve.name);
  }
  throw UsageError(fmt::format("--section: there is no valve \"{}\"{}; or cut at x=, y= or z= a length", name,
                               there_are(name, names)));
}

}  // namespace eyebrow::cli
