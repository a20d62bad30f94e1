#include "spec/quantity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include "spec/words.hpp"

namespace eyebrow {
namespace {

std::string_view trimmed(std::string_view text) {
  const char* blank = " \t\r\n";
  const auto first = text.find_first_not_of(blank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blank) - first + 1);
}

struct Digits {
  double number = 0;
  std::size_t end = 0;  // 0 = there are none
};

Digits digits_at(std::string_view text, std::size_t from) {
  Digits out;
  for (std::size_t i = from; i < text.size() && text[i] >= '0' && text[i] <= '9'; ++i) {
    out.number = 10 * out.number + (text[i] - '0');
    out.end = i + 1;
  }
  return out;
}

struct Fraction {
  double number = 0;  // NaN: 3/0, or 3 5/4
  std::size_t end = 0;
};

/// "3/4", "3 3/4" or "3-3/4" at the start of the text, as rules and drill charts have it. Null: no fraction.
std::optional<Fraction> fraction_at_start(std::string_view text) {
  Digits top = digits_at(text, 0);
  if (top.end == 0) return std::nullopt;
  double whole = 0;
  bool mixed = false;
  if (top.end < text.size() && (text[top.end] == ' ' || text[top.end] == '-')) {
    const std::size_t next =
        text[top.end] == '-' ? top.end + 1 : std::min(text.find_first_not_of(' ', top.end), text.size());
    whole = top.number;
    mixed = true;
    top = digits_at(text, next);
  }
  if (top.end == 0 || top.end >= text.size() || text[top.end] != '/') return std::nullopt;
  const Digits bottom = digits_at(text, top.end + 1);
  if (bottom.end == 0) return std::nullopt;
  const bool sound = bottom.number > 0 && (!mixed || top.number < bottom.number);
  return Fraction{sound ? whole + top.number / bottom.number : NAN, bottom.end};
}

}  // namespace

std::variant<Quantity, QuantityTrouble> parse_quantity(std::string_view given, Measure measure) {
  std::string_view text = trimmed(given);
  if (text.empty()) return QuantityTrouble{"an empty text where a number belongs"};
  std::string_view digits = text;
  if (digits.front() == '+' && digits.size() > 1 && digits[1] != '-') digits.remove_prefix(1);
  Quantity quantity;
  std::string_view rest;
  const bool negative = digits.front() == '-';
  if (const auto fraction = fraction_at_start(digits.substr(negative ? 1 : 0))) {
    if (std::isnan(fraction->number))
      return QuantityTrouble{fmt::format("\"{}\" is no fraction: write it as 3-3/4 or 3 3/4", clipped(text))};
    quantity.number = negative ? -fraction->number : fraction->number;
    rest = trimmed(digits.substr(fraction->end + (negative ? 1 : 0)));
  } else {
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), quantity.number);
    if (error == std::errc::result_out_of_range)
      return QuantityTrouble{fmt::format("\"{}\" is beyond what a number can hold", clipped(text))};
    if (error != std::errc()) return QuantityTrouble{fmt::format("\"{}\" is not a number", clipped(text))};
    rest = trimmed(digits.substr(static_cast<std::size_t>(end - digits.data())));
  }
  if (rest.empty()) return quantity;
  if (rest.front() == ',')
    return QuantityTrouble{fmt::format("\"{}\" has a comma: write a decimal point", clipped(text))};
  if (rest == "thou") {  // what is said for a thousandth of an inch; told back in inches
    quantity.number /= 1000;
    quantity.unit = Unit::inch;
    return quantity;
  }
  if (const auto unit = unit_from_word(rest)) {
    quantity.unit = *unit;
    return quantity;
  }
  return QuantityTrouble{
      fmt::format("\"{}\" has no unit that is known here: allowed are {}", clipped(text), units_text(measure))};
}

std::optional<AtError> split_at_error(std::string_view text) {
  std::optional<AtError> first;
  for (const std::string_view sign : {"\u00b1", "+/-", "+-"}) {
    const auto at = text.find(sign);
    if (at == std::string_view::npos || (first && at >= first->before.size())) continue;
    first = AtError{text.substr(0, at), text.substr(at + sign.size())};
  }
  return first;
}

std::variant<QuantityAndError, QuantityTrouble> parse_with_error(std::string_view text, Measure measure) {
  const auto parts = split_at_error(text);
  const auto value = parse_quantity(parts ? parts->before : text, measure);
  if (!parts) {
    if (const auto* trouble = std::get_if<QuantityTrouble>(&value)) return *trouble;
    return QuantityAndError{std::get<Quantity>(value)};
  }
  const auto bad = [&](const char* what) { return QuantityTrouble{fmt::format("\"{}\" {}", clipped(text), what)}; };
  if (trimmed(parts->before).empty()) return bad("has no number before its \u00b1");
  if (trimmed(parts->behind).empty()) return bad("has nothing behind its \u00b1");
  if (split_at_error(parts->behind)) return bad("has two \u00b1; a reading has one error");
  if (const auto* trouble = std::get_if<QuantityTrouble>(&value)) return *trouble;
  const auto error = parse_quantity(parts->behind, measure);
  if (const auto* trouble = std::get_if<QuantityTrouble>(&error))
    return QuantityTrouble{"behind its \u00b1, " + trouble->what};
  return QuantityAndError{std::get<Quantity>(value), std::get<Quantity>(error)};
}

std::string quantity_text(double value, Unit unit) {
  const std::string number = fmt::format("{:.6g}", value / factor(unit));
  return unit == Unit::none ? number : number + " " + to_string(unit);
}

}  // namespace eyebrow
