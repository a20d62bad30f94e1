#include "verdict_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "asked.hpp"
#include "lines.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

// What was doubtful in the input, again where it cannot be overlooked.
std::string warnings_text(const CheckResult& result) {
  const std::size_t count = result.warnings.size();
  if (count == 0) return "";
  std::string out = fmt::format("  With {} warning{} about the input:\n", count, count == 1 ? "" : "s");
  for (const Fault& warning : result.warnings) out += wrapped("    ", printable(to_string(warning), 400), 6);
  return out;
}

// What was counted for the running engine, and what was not.
std::string allowances_text(const CheckResult& result) {
  if (result.allowances.empty()) return "";
  std::string out = "  Allowances for running:\n", silent;
  for (const Allowance& each : result.allowances) {
    if (!each.stated) {
      silent += (silent.empty() ? "" : ", ") + each.name;
      continue;
    }
    std::string text = each.name + (each.on ? ": " : " (not counted): ") + printable(each.source, 300);
    if (!each.note.empty()) text += (each.source.empty() ? "" : "; ") + printable(each.note, 300);
    out += wrapped("    ", text, 6);
  }
  if (!silent.empty()) out += wrapped("    ", "nothing is stated of, and nothing counted for: " + silent, 6);
  return out;
}

std::string holds_text(const CheckResult& result, const Lengths& lengths) {
  const AskedRow* row = tightest_row(result);  // has a margin: all rows hold
  if (!row) return "Verdict: holds.\n";
  return "Verdict: holds.\n" + wrapped("  ",
                                       fmt::format("Every asked gap is there; the least margin is {} {}: {}.",
                                                   lengths.gap(row->margin), lengths.unit(), row_name(*row)),
                                       2);
}

/// "2 of 12 asked gaps do not hold"
std::string failing_text(const CheckResult& result) {
  const auto failing =
      std::count_if(result.asked.begin(), result.asked.end(), [](const AskedRow& row) { return !row.holds; });
  return fmt::format("{} of {} asked gaps {} not hold", failing, result.asked.size(), failing == 1 ? "does" : "do");
}

std::string fails_text(const CheckResult& result, const Lengths& lengths) {
  std::string out = result.verdict == Verdict::contact ? "Verdict: CONTACT. Parts touch or run into each other.\n"
                                                       : "Verdict: SHORT.\n";
  const bool any = std::ranges::any_of(result.asked, [](const AskedRow& row) { return !row.holds; });
  out += "  " + failing_text(result) + (any ? ":\n" : ".\n");
  for (const AskedRow& row : result.asked) {
    if (row.holds) continue;
    const std::string numbers =
        std::isnan(row.found) ? fmt::format("none found, {} {} asked", lengths.required(row.required), lengths.unit())
                              : fmt::format("margin {} {}", lengths.gap(row.margin), lengths.unit());
    out += wrapped("    ", row_name(row) + ": " + numbers, 6);
  }
  return out;
}

std::string position_text(const std::string& cam, double advance, const std::map<std::string, Stops>& stops) {
  if (const auto at = stops.find(cam); at != stops.end())
    return fmt::format("{} anywhere from {} to {}", cam == "cam" ? cam : "cam " + printable(cam),
                       advance_text(at->second.latest), advance_text(at->second.earliest));
  const std::string name = cam == "cam" ? cam : "cam " + printable(cam);
  const std::string degrees = degrees_text(std::fabs(advance));
  if (degrees == "0") return name + " unmoved";
  return fmt::format("{} {} {} crank degrees", name, advance > 0 ? "advanced" : "retarded", degrees);
}

}  // namespace

std::string headline(const CheckResult& result) {
  if (result.verdict == Verdict::holds)
    return fmt::format("All {} asked gaps hold, under the conditions below.\n", result.asked.size());
  return fmt::format("{}: {}; verdict and conditions below.\n",
                     result.verdict == Verdict::contact ? "CONTACT" : "SHORT", failing_text(result));
}

std::string state_text(const Conditions& given, const Lengths& lengths) {
  std::string text = given.cylinder.empty() ? "" : "cylinder " + printable(given.cylinder, 64) + "; ";
  text += given.cold ? "parts cold" : "parts warm";
  text += given.rigid ? "; valve train rigid" : "; valve train elastic";
  text += given.running_lash ? "; running lash" : "; zero lash, as on the bench";
  for (const auto& [cam, advance] : given.advance) text += "; " + position_text(cam, advance, given.stops);
  for (const auto& [cam, late] : given.drive)
    text += fmt::format("; its drive turns {} {} crank degrees {} for what was cut since it was timed",
                        cam == "cam" ? cam : "cam " + printable(cam),
                        degrees_text(std::round(std::fabs(late) / kDegree * 100) / 100 * kDegree),
                        late > 0 ? "late" : "early");
  if (given.angle_milled != 0)
    text += fmt::format("; head turned by milling, {} {} off at the middle of the bore",
                        lengths.plain(given.angle_milled), lengths.unit());
  if (!given.crown_from.empty())
    text += fmt::format("; crown from {}, its shape is changed there alone", printable(given.crown_from, 64));
  if (given.crown_mended > 0)
    text +=
        fmt::format("; its faces were joined: known to {} {}", lengths.required(given.crown_mended), lengths.unit());
  for (const auto& [valve, file] : given.valves_from)
    text += fmt::format("; valve {} from {}", printable(valve), printable(file, 64));
  text += fmt::format("; gasket {} {}", lengths.plain(given.gasket), lengths.unit());
  text += fmt::format("; deck clearance {} {}", lengths.plain(given.deck_clearance), lengths.unit());
  if (!given.changed.empty()) {
    std::string list;
    for (const std::string& change : given.changed) list += (list.empty() ? "" : ", ") + printable(change, 100);
    text += "; changed from the file: " + list;
  }
  return text;
}

std::string conditions_text(const Conditions& given, const Lengths& lengths) {
  return state_text(given, lengths) +
         fmt::format("; sampled every {} deg of crank, the least gaps hold at any angle", degrees_text(given.step));
}

std::string verdict_text(const CheckResult& result, const Format& format) {
  const Lengths lengths(format);
  std::string out = result.verdict == Verdict::holds ? holds_text(result, lengths) : fails_text(result, lengths);
  out += allowances_text(result);
  out += warnings_text(result);
  for (const Fault& each : result.advice) out += wrapped("  To know more: ", printable(each.message, 400) + ".", 4);
  out += wrapped("Conditions: ", conditions_text(result.conditions, lengths) + ".", 2);
  return out + kCaution + '\n';
}

}  // namespace eyebrow
