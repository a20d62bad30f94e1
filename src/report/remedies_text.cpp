#include "remedies_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "lines.hpp"
#include "remedy_words.hpp"

namespace eyebrow {
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
        without += fmt::format("{}{}", without.empty() ? "" : ", ", remedy_tried(remedy));
        continue;
      }
      const double by = remedy.value - input.now;
      const std::string what =
          fmt::format("  {} = {}   {} by {}{}\n", printable(input.key, 60), remedy_number(input, remedy.value),
                      remedy_deed(input, by > 0), remedy_number(input, std::fabs(by)),
                      several && restores_all(remedy) ? "; then every gap holds" : "") +
          wrapped("      ", remedy_others(remedy, lengths), 6);
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
  if (cuts) out += wrapped("", kThinsCrown, 0);
  return out;
}

}  // namespace eyebrow
