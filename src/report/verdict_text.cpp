#include "verdict_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

std::string row_name(const AskedRow& row) {
  return row.valve.empty() ? row.what : printable(row.valve, 60) + ", " + row.what;
}

// The row with the least margin; null when no row has one.
const AskedRow* least(const CheckResult& result) {
  const AskedRow* least = nullptr;
  for (const AskedRow& row : result.asked)
    if (!std::isnan(row.margin) && (!least || row.margin < least->margin)) least = &row;
  return least;
}

// What was doubtful in the input, again where it cannot be overlooked.
std::string warnings_text(const CheckResult& result) {
  const std::size_t count = result.warnings.size();
  if (count == 0) return "";
  std::string out = fmt::format("  With {} warning{} about the input:\n", count, count == 1 ? "" : "s");
  for (const Fault& warning : result.warnings) out += wrapped("    ", printable(to_string(warning), 400), 6);
  return out;
}

std::string holds_text(const CheckResult& result, const Lengths& lengths) {
  const AskedRow* row = least(result);
  if (!row) return "Verdict: holds.\n";
  return "Verdict: holds.\n" + wrapped("  ",
                                       fmt::format("Every asked gap is there; the least margin is {} {}: {}.",
                                                   lengths.gap(row->margin), lengths.unit(), row_name(*row)),
                                       2);
}

std::string fails_text(const CheckResult& result, const Lengths& lengths) {
  const auto failing =
      std::count_if(result.asked.begin(), result.asked.end(), [](const AskedRow& row) { return !row.holds; });
  std::string out = result.verdict == Verdict::contact ? "Verdict: CONTACT. Parts touch or run into each other.\n"
                                                       : "Verdict: SHORT.\n";
  out += fmt::format("  {} of {} asked gaps {} not hold{}\n", failing, result.asked.size(),
                     failing == 1 ? "does" : "do", failing > 0 ? ":" : ".");
  for (const AskedRow& row : result.asked) {
    if (row.holds) continue;
    const std::string numbers =
        std::isnan(row.found) ? fmt::format("none found, {} {} asked", lengths.required(row.required), lengths.unit())
                              : fmt::format("margin {} {}", lengths.gap(row.margin), lengths.unit());
    out += wrapped("    ", row_name(row) + ": " + numbers, 6);
  }
  return out;
}

std::string advance_text(const std::string& cam, double advance) {
  const std::string name = cam == "cam" ? cam : "cam " + printable(cam);
  const std::string degrees = degrees_text(std::fabs(advance));
  if (degrees == "0") return name + " unmoved";
  return fmt::format("{} {} {} crank degrees", name, advance > 0 ? "advanced" : "retarded", degrees);
}

std::string conditions_text(const Conditions& given, const Lengths& lengths) {
  std::string text = given.cold ? "parts cold" : "parts warm";
  text += given.rigid ? "; valve train rigid" : "; valve train elastic";
  text += given.running_lash ? "; running lash" : "; zero lash, as on the bench";
  for (const auto& [cam, advance] : given.advance) text += "; " + advance_text(cam, advance);
  text += fmt::format("; gasket {} {}", lengths.plain(given.gasket), lengths.unit());
  text += fmt::format("; deck clearance {} {}", lengths.plain(given.deck_clearance), lengths.unit());
  if (!given.changed.empty()) {
    std::string list;
    for (const std::string& change : given.changed) list += (list.empty() ? "" : ", ") + printable(change, 100);
    text += "; changed from the file: " + list;
  }
  text += fmt::format("; sampled every {} deg of crank, the least gaps hold at any angle", degrees_text(given.step));
  return text;
}

}  // namespace

std::string verdict_text(const CheckResult& result, const Format& format) {
  const Lengths lengths(format);
  std::string out = result.verdict == Verdict::holds ? holds_text(result, lengths) : fails_text(result, lengths);
  out += warnings_text(result);
  out += wrapped("Conditions: ", conditions_text(result.conditions, lengths) + ".", 2);
  return out + "Caution: an aid. The makers' limits rule; confirm on the assembled engine, turned by hand.\n";
}

}  // namespace eyebrow
