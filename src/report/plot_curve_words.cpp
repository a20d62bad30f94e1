// What is written above and below the plot of gaps against crank angle.
#include <fmt/format.h>

#include <cmath>

#include "lines.hpp"
#include "plot_curve_data.hpp"
#include "verdict_text.hpp"

namespace eyebrow::plot {

std::vector<std::string> curves_subtitle(const CheckResult& result, const Lengths& lengths) {
  std::string first = result.verdict == Verdict::holds    ? "Verdict: holds."
                      : result.verdict == Verdict::short_ ? "Verdict: SHORT."
                                                          : "Verdict: CONTACT. Parts touch or run into each other.";
  if (const AskedRow* row = tightest_row(result)) {
    const std::string what =
        (row->valve.empty() ? "" : printable(row->valve) + ", ") + row->what + (row->running ? ", running" : "");
    first += std::isnan(row->margin)
                 ? fmt::format(" {}: none found, {} {} asked.", what, lengths.required(row->required), lengths.unit())
                 : fmt::format(" Least margin {} {}: {}.", lengths.gap(row->margin), lengths.unit(), what);
  }
  return {first, "Conditions: " + conditions_text(result.conditions, lengths) + "."};
}

std::vector<std::string> curves_notes(const CheckResult& result, const std::vector<CurveData>& panels,
                                      const Range& cranks, const Lengths& lengths) {
  std::string text = "Marks: the tightest point of each gap, proven for every crank angle.";
  bool card = false, running = false;
  std::string away;
  for (const CurveData& panel : panels)
    for (std::size_t k = 0; k < 4; ++k) {
      const Tightest& of = panel.tightest[k];
      card = card || !std::isnan(of.open_least);
      running = running || !std::isnan(of.running);
      if (of.found && (of.crank < cranks.from || of.crank > cranks.to))
        away += fmt::format("{}{}, {} {} {} at {}", away.empty() ? "" : "; ", panel.name, to_string(kGapKinds[k]),
                            lengths.gap(of.judged), lengths.unit(), crank_text(of.crank * kDegree));
    }
  if (card)
    text +=
        " The curves are of the middle of the lobes that have the same cam card; the bar at a mark is what the card "
        "leaves open, and the least of it is judged and written.";
  if (!result.conditions.stops.empty())
    text +=
        " The curves are with the cam as the file sets it; the marks are the least of all positions between its stops.";
  if (running) text += " Curves and marks are of the engine at rest; \"running\" is what running leaves.";
  if (!away.empty()) text += " Not in the picture: " + away + '.';
  return {text, kCaution};
}

}  // namespace eyebrow::plot
