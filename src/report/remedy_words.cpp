#include "remedy_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace eyebrow {

const char* remedy_deed(const RemedyInput& input, bool more) {
  const std::string_view key = input.key;
  const auto ends = [&](const char* with) { return key.ends_with(with); };
  if (key.starts_with("pocket."))
    return ends(".depth") ? "deepens the pocket" : ends(".diameter") ? "widens the pocket" : "shifts the pocket";
  if (key.starts_with("gasket.")) return "a thicker gasket";
  if (key.starts_with("cam")) return more ? "advances the cam" : "retards the cam";
  return ends(".sunk") ? "cuts the seat deeper" : "moves the valve";
}

std::string remedy_number(const RemedyInput& input, double value) {
  const int digits = static_cast<int>(std::lround(-std::log10(input.step)));
  return fmt::format("{:.{}f}{}{}", value + 0.0, digits, input.unit.empty() ? "" : " ", input.unit);
}

std::string remedy_others(const Remedy& remedy, const Lengths& lengths) {
  std::string less, more;
  for (const Remedy::Other& other : remedy.others) {
    const std::string by = lengths.plain(std::fabs(other.change));
    if (!std::isfinite(other.change) || by == lengths.plain(0)) continue;
    std::string& to = other.change < 0 ? less : more;
    to += fmt::format("{}{} {}{}{}", to.empty() ? "" : ", ", gap_name(other.gap), other.change > 0 ? "+" : "-", by,
                      other.holds  ? ""
                      : other.held ? " (then short)"
                                   : " (still short)");
  }
  if (less.empty() && more.empty()) return "no other gap changes";
  if (less.empty()) return "gives " + more;
  return fmt::format("takes {}{}{}", less, more.empty() ? "" : "; gives ", more);
}

bool restores_all(const Remedy& remedy) {
  return std::ranges::all_of(remedy.others, &Remedy::Other::holds);
}

std::string remedy_tried(const Remedy& remedy) {
  const RemedyInput& input = remedy.input;
  const std::string upper = remedy_number(input, remedy.most);
  const bool both = input.less > 0 && input.more > 0;
  std::string range = both ? fmt::format("{} to {}", remedy_number(input, remedy.least), upper)
                           : fmt::format("to {}", input.more > 0 ? upper : remedy_number(input, remedy.least));
  return fmt::format("{} ({}{})", input.key, range, remedy.trouble.empty() ? "" : ", no further engine");
}

}  // namespace eyebrow
