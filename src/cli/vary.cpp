#include "vary.hpp"

#include <fmt/format.h>

#include <cmath>
#include <variant>

#include "options.hpp"
#include "spec/quantity.hpp"

namespace eyebrow::cli {
namespace {

/// A thousand rows, or a picture a thousand dots wide, are more than anybody reads.
constexpr double kMostValues = 1000;

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t");
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// Without the last places that counting in steps adds.
double tidy(double value) {
  return std::stod(fmt::format("{:.12g}", value));
}

}  // namespace

Varied parse_vary(const std::string& option, const std::string& text) {
  const auto refuse = [&](const std::string& what) {
    throw UsageError(
        fmt::format("{}: \"{}\" {}; write KEY=FROM:TO:STEP, as in cam.advance=-8:8:1 or "
                    "\"gasket.thickness=0.030 in:0.050 in:0.005 in\"",
                    option, text, what));
  };
  const auto equals = text.find('=');
  if (equals == std::string::npos) refuse("has no '='");
  Varied input;
  input.key = trimmed(text.substr(0, equals));
  if (input.key.empty()) refuse("names no key before the '='");

  double numbers[3] = {};
  int count = 0;
  std::string rest = text.substr(equals + 1);
  for (std::size_t from = 0; from <= rest.size(); ++count) {
    const std::size_t colon = std::min(rest.find(':', from), rest.size());
    const std::string part = trimmed(rest.substr(from, colon - from));
    from = colon + 1;
    if (count == 3) refuse("has more than three numbers");
    if (part.empty()) refuse("lacks a number");
    const auto read = parse_quantity(part);
    if (const auto* trouble = std::get_if<QuantityTrouble>(&read))
      refuse(fmt::format("has \"{}\": {}", part, trouble->what));
    const Quantity& quantity = std::get<Quantity>(read);
    numbers[count] = quantity.number;
    const std::string unit = to_string(quantity.unit);
    if (unit.empty()) continue;
    if (!input.unit.empty() && input.unit != unit) refuse(fmt::format("mixes {} and {}", input.unit, unit));
    input.unit = unit;
  }
  if (count < 3) refuse("needs three numbers");
  const auto [from, to, step] = numbers;
  if (!(step > 0)) refuse("has a step that is not above zero");
  if (to < from) refuse("ends below where it begins");
  const double steps = std::floor((to - from) / step + 1e-9);
  if (!(steps < kMostValues)) refuse(fmt::format("makes {:.0f} values, more than {:.0f}", steps + 1, kMostValues));
  for (int i = 0; i <= static_cast<int>(steps); ++i) input.values.push_back(tidy(from + i * step));
  return input;
}

std::string set_text(const Varied& input, double value) {
  return fmt::format("{}{}{}", value, input.unit.empty() ? "" : " ", input.unit);
}

}  // namespace eyebrow::cli
