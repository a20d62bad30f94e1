#include "remedies_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "lines.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

const char* deed(const RemedyInput& input, bool more) {
  const std::string_view key = input.key;
  const auto ends = [&](const char* with) { return key.ends_with(with); };
  if (key.starts_with("pocket."))
    return ends(".depth") ? "deepens the pocket" : ends(".diameter") ? "widens the pocket" : "shifts the pocket";
  if (key.starts_with("gasket.")) return "a thicker gasket";
  if (key.starts_with("cam")) return more ? "advances the cam" : "retards the cam";
  return ends(".sunk") ? "cuts the seat deeper" : "moves the valve";
}

/// "1.9804 in", with the digits of its step.
std::string number(const RemedyInput& input, double value) {
  const int digits = static_cast<int>(std::lround(-std::log10(input.step)));
  return fmt::format("{:.{}f}{}{}", value + 0.0, digits, input.unit.empty() ? "" : " ", input.unit);
}

std::string others(const Remedy& remedy, const Lengths& lengths) {
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

std::string looked_at(const Remedy& remedy) {
  const RemedyInput& input = remedy.input;
  const std::string upper = number(input, remedy.most);
  const bool both = input.less > 0 && input.more > 0;
  std::string range = both ? fmt::format("{} to {}", number(input, remedy.least), upper)
                           : fmt::format("to {}", input.more > 0 ? upper : number(input, remedy.least));
  return fmt::format("{} ({}{})", input.key, range, remedy.trouble.empty() ? "" : ", no further engine");
}

}  // namespace

std::string remedies_text(const std::vector<GapRemedies>& remedies, const Format& format, const std::string& cylinder) {
  const Lengths lengths(format);
  std::string out;
  bool cuts = false;
  const bool several = remedies.size() > 1;
  for (const GapRemedies& of : remedies) {
    out +=
        wrapped("",
                fmt::format("To restore {} ({} of {} {}), each of these alone; a step less does not:", gap_name(of.gap),
                            std::isfinite(of.found) ? lengths.gap(of.found) : "none", lengths.required(of.gap.required),
                            lengths.unit()),
                2);
    std::string without, spoiling;
    bool any = false;
    for (const Remedy& remedy : of.remedies) {
      const RemedyInput& input = remedy.input;
      if (!remedy.restores) {
        without += fmt::format("{}{}", without.empty() ? "" : ", ", looked_at(remedy));
        continue;
      }
      const double by = remedy.value - input.now;
      const std::string what =
          fmt::format("  {} = {}   {} by {}{}\n", printable(input.key, 60), number(input, remedy.value),
                      deed(input, by > 0), number(input, std::fabs(by)),
                      several && restores_all(remedy) ? "; then every gap holds" : "") +
          wrapped("      ", others(remedy, lengths), 6);
      if (remedy.spoils()) {
        spoiling += what;
        continue;
      }
      out += what;
      any = true;
      cuts |= input.key.starts_with("pocket.");
    }
    if (!any) out += "  none of the numbers that were tried\n";
    if (!spoiling.empty()) out += "  These won't do it alone, as they make another gap short:\n" + spoiling;
    if (!without.empty())
      out += wrapped("  ", fmt::format("Not enough alone, as far as each was tried: {}", without), 4);
  }
  if (out.empty()) return out;
  out.insert(0, "\n");
  if (cylinder.empty())
    out += "Try one with --set KEY=VALUE, and ask for more than the least.\n";
  else
    out += wrapped("",
                   fmt::format("Looked for in cylinder {} alone, by its own numbers. What the cylinders have each of "
                               "their own is to change in its list; anything else changes them all, so check again.",
                               printable(cylinder, 40)),
                   0);
  if (cuts)
    out += wrapped("",
                   "A pocket cut deeper, wider or elsewhere thins the crown; what that leaves is not known here, and "
                   "the maker's limit rules.",
                   0);
  return out;
}

}  // namespace eyebrow
