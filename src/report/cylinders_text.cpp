// The cylinders beside each other, then the worst in full.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "asked.hpp"
#include "eyebrow/report.hpp"
#include "lines.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

constexpr int kLabelWidth = 24, kVerdictWidth = 11;

const char* word(Verdict verdict) {
  switch (verdict) {
    case Verdict::holds:
      return "holds";
    case Verdict::short_:
      return "SHORT";
    case Verdict::contact:
      return "CONTACT";
  }
  return "?";
}

/// A cylinder's line: `sign` before its name.
std::string line(const CheckResult& result, const Lengths& lengths, int number, const char* sign) {
  const AskedRow* row = tightest_row(result);
  std::string numbers(static_cast<std::size_t>(3 * number), ' '), name;
  if (row) {
    numbers = fmt::format("{:>{}}{:>{}}{:>{}}", std::isnan(row->found) ? "none" : lengths.gap(row->found), number,
                          lengths.required(row->required), number, lengths.gap(row->margin), number);
    name = printable(row_name(*row), kWidth - kLabelWidth - 3 * number - kVerdictWidth);
  }
  std::string out = padded(sign + result.conditions.cylinder, kLabelWidth) + numbers +
                    fmt::format("  {:{}}", word(result.verdict), kVerdictWidth - 2) + name;
  out.erase(out.find_last_not_of(' ') + 1);
  return out + '\n';
}

}  // namespace

std::string check_text(const CylindersResult& result, const Format& format) {
  const CheckResult& worst = result.each.at(result.worst);
  const Lengths lengths(format);
  const int number = std::max(8, 5 + std::max(format.digits, 0));
  std::string out = printable(worst.engine, kWidth) + '\n';
  out += wrapped("",
                 fmt::format("Each cylinder by its own numbers: its verdict, and the asked gap with the least "
                             "margin. * = the worst, whose report follows. Lengths in {}; a found gap is rounded "
                             "down, an asked one up.",
                             lengths.unit_in_full()),
                 0);
  out += fmt::format("\n{}{:>{}}{:>{}}{:>{}}  {:{}}{}\n", padded("  Cylinder", kLabelWidth), "found", number, "asked",
                     number, "margin", number, "verdict", kVerdictWidth - 2, "least margin at");
  for (std::size_t i = 0; i < result.each.size(); ++i)
    out += line(result.each[i], lengths, number, i == result.worst ? "* " : "  ");
  return out + '\n' + check_text(worst, format);
}

}  // namespace eyebrow
