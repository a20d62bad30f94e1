// A tolerance stack as a builder reads it: a row a gap, then what drives each, and where its worst case is.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/stack_report.hpp"
#include "lines.hpp"
#include "stack_words.hpp"
#include "verdict_text.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

constexpr int kMostName = 40, kValue = 7, kIndent = 6, kShare = 6;
/// Less of the variance than this is not told, nor more inputs of a gap than these.
constexpr double kLeastShare = 0.01;
constexpr std::size_t kMostParts = 6;
/// A surface further off than this (mm) is worth a word: a map's cells are to the same.
constexpr double kFarOff = 0.003;

class StackTable {
 public:
  StackTable(const StackResult& stack, const Format& format)
      : stack_(stack), lengths_(format), inch_(format.units == LengthUnit::inch) {}

  std::string heading() const {
    std::string out = wrapped("", printable(stack_.engine, kWidth), 0);
    const std::size_t inputs = stack_.tolerances.size(), alone = stack_.drivers.size();
    out += wrapped(
        "",
        fmt::format("Tolerance stack of {} input{}{}: {} engines drawn (seed {}).", inputs, inputs == 1 ? "" : "s",
                    alone < inputs ? fmt::format(" that move as {}", alone) : "", stack_.samples, stack_.seed),
        0);
    for (const std::string& change : stack_.changed) out += wrapped("With ", printable(change, kWidth), 2);
    return out +
           wrapped("",
                   fmt::format("Least gaps over the cycle in {}, rounded down. ! = short of what is asked, x = parts "
                               "touch.",
                               lengths_.unit_in_full()),
                   0);
  }

  std::string table(const std::vector<std::size_t>& shown) const {
    int name = 0;
    for (const std::size_t i : shown)
      name = std::max(name, static_cast<int>(printable(gap_name(stack_.gaps[i].gap), kMostName).size()));
    std::string out = fmt::format("\n{:{}}", "", name);
    for (const char* title : {"asked", "nominal", "worst", "RSS", "1/1000", "1/100", "middle"})
      out += fmt::format("{:>{}} ", title, kValue);
    out += " below asked\n";
    for (const std::size_t i : shown) out += row(stack_.gaps[i], name);
    return out;
  }

  std::string meanings() const {
    std::string out = wrapped(
        "",
        "worst: the least anywhere within the tolerances, all inputs together. RSS: nominal less the root of the "
        "sum of squares of what each input alone takes at its worse end; right where effects add up and errors are "
        "normal. 1/1000: so many of the engines drawn have less. below asked: share of the engines drawn, and "
        "its 95 % interval (Clopper and Pearson, with twice the surface's greatest error).",
        0);
    if (stack_.endless)
      out += wrapped("",
                     "A tolerance that is stated by its deviation has no end: the worst case goes to 3 deviations of "
                     "it, and some of the engines drawn lie beyond.",
                     0);
    return out;
  }

  std::string drivers(const std::vector<std::size_t>& shown) const {
    std::string out = told_once(shown, [&](const StackGap& gap) {
      std::string rows;
      std::size_t count = 0;
      for (const StackPart& part : gap.parts) {
        if (part.share < kLeastShare || count++ == kMostParts) break;
        rows += fmt::format("{:>{}}{:>{}}   {}\n", share_text(part.share), kIndent + kShare,
                            change(std::fmin(part.up, part.down)), kValue + 3,
                            printable(stack_.drivers[part.driver].label, 60));
      }
      return rows;
    });
    if (out.empty()) return out;
    return wrapped("\n",
                   "What drives each: the share of its variance that goes when this input stands still, and what the "
                   "input alone does to the gap at its worse end.",
                   0) +
           out;
  }

  /// Of the gaps that are not there in their worst case; where all are, of the tightest.
  std::string worst_places(const std::vector<std::size_t>& shown) const {
    std::vector<std::size_t> tight;
    for (const std::size_t i : shown)
      if (!stack_.gaps[i].worst.holds || stack_.gaps[i].worst.touches) tight.push_back(i);
    if (tight.empty()) tight.push_back(tightest_gap(stack_));
    const std::string out = told_once(tight, [&](const StackGap& gap) {
      std::string text;
      for (std::size_t k = 0; k < gap.worst.by.size(); ++k) {
        if (gap.worst.by[k] == 0 || !is_part(gap, k)) continue;
        const StackNumber number = stack_number(stack_, k);
        text += fmt::format("{}{} {:+.4g}{}{}", text.empty() ? "" : ", ", printable(stack_.tolerances[k].key, 60),
                            gap.worst.by[k] / number.size, number.unit.empty() ? "" : " ", number.unit);
      }
      return text.empty() ? text : wrapped(std::string(kIndent, ' '), text, kIndent);
    });
    return out.empty() ? out : wrapped("\n", "Where the worst case is, by how far each number is moved:", 0) + out;
  }

  std::string conditions(const std::vector<std::size_t>& shown) const {
    double most = 0, left = 0;
    std::string far, exact;
    for (const std::size_t i : shown) {
      const StackGap& gap = stack_.gaps[i];
      if (std::isfinite(gap.residual)) most = std::fmax(most, gap.residual);
      left = std::fmax(left, gap.worst.value - gap.worst.bound);
      if (gap.residual > kFarOff)
        far += fmt::format("{}{} ({})", far.empty() ? "" : ", ", printable(gap_name(gap.gap), 40), size(gap.residual));
      if (gap.exact) exact += (exact.empty() ? "" : ", ") + printable(gap_name(gap.gap), 40);
    }
    std::string out = wrapped(
        "\n",
        fmt::format("{} engines were computed exactly. Samples are read from a surface through them; at {} engines "
                    "drawn at random within the tolerances it was off by {} at most. Worst cases are of engines "
                    "computed exactly; by twice what the surface was off, none is lower by more than {}.",
                    stack_.engines, stack_.checked, size(most), size(left)),
        0);
    if (!far.empty()) out += wrapped("", "Off by more than a map's cells: " + far + ".", 0);
    if (!exact.empty())
      out += wrapped("",
                     fmt::format("There is no surface of what comes and goes within the tolerances ({}): its share is "
                                 "told from some of the engines computed exactly, and its worst case is the least of "
                                 "all of these.",
                                 exact),
                     0);
    if (stack_.refused > 0)
      out +=
          wrapped("",
                  fmt::format("Of the engines computed {} cannot be: {}. Of the engines drawn {} cannot be; they are "
                              "not counted.",
                              stack_.refused, printable(stack_.trouble, 200), stack_.none),
                  0);
    return out;
  }

  std::string verdict() const {
    std::string failing;
    bool touch = false;
    for (const StackGap& gap : stack_.gaps) {
      if (gap.worst.holds && !gap.worst.touches) continue;
      touch = touch || gap.worst.touches;
      failing += (failing.empty() ? "" : ", ") + printable(gap_name(gap.gap), 40);
    }
    std::string out = failing.empty() ? "\nVerdict: holds, in the worst case of the tolerances that are stated.\n"
                      : touch         ? "\nVerdict: CONTACT in the worst case.\n"
                                      : "\nVerdict: SHORT in the worst case.\n";
    if (!failing.empty()) out += wrapped("  ", "Not there: " + failing + ".", 2);
    out += wrapped("  ",
                   "A stack sees no more than the numbers that have a tolerance. It does not see a number that was "
                   "misread, a bent rod or valve, a wrong part, or what running adds beyond [running].",
                   2);
    return out + kCaution + '\n';
  }

 private:
  /// Gaps of which the same is told share a heading.
  template <class Tell>
  std::string told_once(const std::vector<std::size_t>& shown, const Tell& tell) const {
    std::vector<std::pair<std::string, std::string>> told;  // what is told, and of which
    for (const std::size_t i : shown) {
      const std::string text = tell(stack_.gaps[i]), name = printable(gap_name(stack_.gaps[i].gap), 40);
      if (text.empty()) continue;
      const auto same = std::ranges::find(told, text, &std::pair<std::string, std::string>::first);
      if (same == told.end())
        told.emplace_back(text, name);
      else
        same->second += ", " + name;
    }
    std::string out;
    for (const auto& [text, names] : told) out += wrapped("  ", names, 2) + text;
    return out;
  }

  std::string value(const StackGap& gap, double mm, bool holds) const {
    if (!std::isfinite(mm)) return fmt::format("{:>{}} ", "", kValue);
    const char sign = mm < 0 && gap.gap.what != "radial" ? 'x' : holds ? ' ' : '!';
    return fmt::format("{:>{}}{}", lengths_.gap(mm), kValue, sign);
  }

  std::string row(const StackGap& gap, int name) const {
    std::string out =
        padded(gap_name(gap.gap), name) + fmt::format("{:>{}} ", lengths_.required(gap.gap.required), kValue);
    out += value(gap, gap.nominal, gap.nominal >= gap.gap.required);
    out += value(gap, gap.worst.value, gap.worst.holds);
    for (const double mm : {gap.rss, gap.p01, gap.p1, gap.p50}) out += value(gap, mm, mm >= gap.gap.required);
    std::string below = moves(gap) ? below_text(gap) : "not moved";
    if (!below.empty()) out += " " + below;
    return out + '\n';
  }

  /// Does the tolerance's driver do anything to the gap?
  bool is_part(const StackGap& gap, std::size_t tolerance) const {
    return std::ranges::any_of(gap.parts, [&](const StackPart& part) {
      const auto& members = stack_.drivers[part.driver].members;
      return std::ranges::find(members, tolerance) != members.end();
    });
  }

  /// To a micrometre, or a tenth of a thousandth.
  std::string change(double mm) const {
    return inch_ ? fmt::format("{:+.4f}", mm / kInch) : fmt::format("{:+.3f}", mm);
  }
  std::string size(double mm) const { return off_text(mm, inch_ ? LengthUnit::inch : LengthUnit::mm); }

  const StackResult& stack_;
  Lengths lengths_;
  bool inch_;
};

}  // namespace

std::string stack_text(const StackResult& stack, const Format& format, const std::vector<std::size_t>& chosen) {
  std::vector<std::size_t> shown = chosen;
  for (std::size_t i = 0; i < stack.gaps.size() && chosen.empty(); ++i)
    if (std::isfinite(stack.gaps[i].nominal) || std::isfinite(stack.gaps[i].worst.value)) shown.push_back(i);
  const StackTable table(stack, format);
  return table.heading() + table.table(shown) + '\n' + table.meanings() + table.drivers(shown) +
         table.worst_places(shown) + table.conditions(shown) + table.verdict();
}

}  // namespace eyebrow
