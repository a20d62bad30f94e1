// Engines side by side as a builder reads them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "asked.hpp"
#include "compare_words.hpp"
#include "eyebrow/compare_report.hpp"
#include "lines.hpp"
#include "remedies_text.hpp"
#include "verdict_text.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

const char* compared_verdict(Verdict verdict) {
  return verdict == Verdict::holds ? "holds" : verdict == Verdict::short_ ? "SHORT" : "CONTACT";
}

std::string engines_text(const Comparison& of, const Lengths& lengths) {
  std::string out;
  for (std::size_t e = 0; e < of.checks.size(); ++e) {
    const CheckResult& check = of.checks[e];
    std::string tightest;
    if (const AskedRow* row = tightest_row(check))
      tightest = std::isnan(row->margin) ? fmt::format("; {}: none found", row_name(*row))
                                         : fmt::format("; least margin {} {}: {}", lengths.gap(row->margin),
                                                       lengths.unit(), row_name(*row));
    out += wrapped(fmt::format("  {} ", e + 1),
                   fmt::format("{} ({}): {}{}", printable(check.engine, 60), printable(of.files[e], 80),
                               compared_verdict(check.verdict), tightest),
                   4);
  }
  return out;
}

/// The gaps, in blocks of as many engines as fit beside the first.
class GapTable {
 public:
  GapTable(const Comparison& of, const Lengths& lengths, const Format& format)
      : of_(of), lengths_(lengths), number_(std::max(8, 5 + std::max(format.digits, 0))) {
    for (const ComparedGap& gap : of.gaps) name_ = std::max(name_, static_cast<int>(gap.name.size()) + 1);
    name_ = std::min(name_, 36);
    // What an engine asks is only told again where it asks for something else.
    for (std::size_t e = 0; e < of.checks.size(); ++e)
      asks_own_.push_back(e == 0 || std::ranges::any_of(of.gaps, [&](const ComparedGap& gap) {
                            return gap.of[e].there &&
                                   lengths.required(gap.of[e].required) != lengths.required(gap.of.front().required);
                          }));
  }

  std::string text() const {
    std::string out;
    for (std::size_t from = 1; from < of_.checks.size();) {
      std::size_t to = from;
      for (int left = kWidth - name_ - width_of(0); to < of_.checks.size() && (to == from || left >= width_of(to));
           ++to)
        left -= width_of(to);
      out += '\n' + block(from, to);
      from = to;
    }
    return out;
  }

 private:
  int width_of(std::size_t engine) const {
    return (asks_own_[engine] ? number_ : 0) + number_ + 1 + (engine > 0 ? number_ : 0);
  }
  std::string cell(const std::string& text, int width) const { return fmt::format("{:>{}}", text, width); }

  std::string of_engine(const ComparedGap& gap, std::size_t engine) const {
    const ComparedGap::Of& its = gap.of[engine];
    std::string out;
    if (asks_own_[engine]) out += cell(its.there ? lengths_.required(its.required) : "-", number_);
    const bool touches = its.found < 0 && gap.what != "radial";
    const std::string found = !its.there ? "-" : std::isnan(its.found) ? "none" : lengths_.gap(its.found);
    out += cell(found, number_) + (touches ? 'x' : its.there && !its.holds ? '!' : ' ');
    if (engine > 0) out += cell(signed_text(gap.difference(engine), lengths_), number_);
    return out;
  }

  std::string block(std::size_t from, std::size_t to) const {
    std::vector<std::size_t> engines{0};
    for (std::size_t e = from; e < to; ++e) engines.push_back(e);
    std::string head = padded("gap", name_);
    for (const std::size_t e : engines) {
      if (asks_own_[e]) head += cell(e == 0 ? "asked" : fmt::format("{} asks", e + 1), number_);
      head += cell(fmt::format("in {}", e + 1), number_) + ' ';
      if (e > 0) head += cell(fmt::format("{} - 1", e + 1), number_);
    }
    std::string out = table_line(head);
    for (const ComparedGap& gap : of_.gaps) {
      std::string line = padded(gap.name, name_);
      for (const std::size_t e : engines) line += of_engine(gap, e);
      out += table_line(line);
    }
    std::string line = padded("verdict", name_);
    for (const std::size_t e : engines) {
      if (asks_own_[e]) line += cell("", number_);
      line += cell(compared_verdict(of_.checks[e].verdict), number_) + ' ';
      if (e > 0) line += cell("", number_);
    }
    return out + table_line(line);
  }

  const Comparison& of_;
  const Lengths& lengths_;
  int number_, name_ = 16;
  std::vector<bool> asks_own_;
};

std::string other_keys_text(DifferingInput::OtherKeys other) {
  switch (other) {
    case DifferingInput::OtherKeys::same:
      return "other keys, the same thing";
    case DifferingInput::OtherKeys::different:
      return "other keys, not the same thing";
    case DifferingInput::OtherKeys::unknown:
      return "other keys; see the lifts below";
    case DifferingInput::OtherKeys::no:
      break;
  }
  return "";
}

std::string differing_text(const Comparison& of) {
  if (of.inputs.empty()) return "\nThe files state the same numbers and words.\n";
  const auto engines = static_cast<int>(of.checks.size());
  constexpr int kInputKey = 38;
  const int column = std::max(14, (kWidth - kInputKey) / std::max(engines, 3));
  std::string out = wrapped("\n", "Inputs that differ; what is not listed is the same in all. - = not stated.", 0);
  std::string head = padded("input", kInputKey);
  for (int e = 0; e < engines; ++e) head += padded(fmt::format("in {}", e + 1), column);
  out += table_line(head);
  for (const DifferingInput& input : of.inputs) {
    if (input.other_keys != DifferingInput::OtherKeys::no) {
      out += wrapped("", fmt::format("{}: {}", printable(input.key), other_keys_text(input.other_keys)), 2);
      for (std::size_t e = 0; e < input.stated.size(); ++e)
        out += wrapped(fmt::format("    in {}: ", e + 1), printable(input.stated[e].text, 300), 10);
      continue;
    }
    std::string line = padded(input.key, kInputKey - 1) + ' ';
    for (const DifferingInput::Stated& stated : input.stated)
      line += padded(stated.text.empty() ? "-" : stated.text, column - 1) + ' ';
    out += table_line(line);
    std::string also;
    for (const std::string& key : input.also) also += (also.empty() ? "" : ", ") + key;
    if (!also.empty()) out += wrapped("    ", "and with it " + printable(also, 300), 6);
  }
  return out;
}

std::string lifts_text(const Comparison& of, const Lengths& lengths) {
  if (of.lifts.empty()) return "";
  std::string out = wrapped(
      "\n", "Lifts at the valve, cams as set, against engine 1 (+ = more lift); near TDC = within 30 degrees of it.",
      0);
  for (const LiftDifference& each : of.lifts) {
    const std::string near = signed_text(each.near_tdc, lengths);
    out += wrapped(fmt::format("  {} {}: ", each.engine + 1, printable(each.valve)),
                   fmt::format("near TDC {}; at most by {} {} at {}",
                               near == "." ? "the same"
                                           : fmt::format("by up to {} {} at {}", near, lengths.unit(),
                                                         crank_text(each.near_crank)),
                               signed_text(each.most, lengths), lengths.unit(), crank_text(each.crank)),
                   6);
  }
  return out;
}

/// What would make each engine fit that does not.
std::string fitting_text(const Comparison& of, const Format& format) {
  std::string out;
  for (std::size_t e = 0; e < of.checks.size(); ++e)
    if (const std::string text = remedies_text(of.checks[e].remedies, format); !text.empty())
      out += wrapped("\n",
                     fmt::format("Engine {}: {}", e + 1,
                                 e == 0 ? "what would make it fit"
                                        : "what would make it fit, its own numbers changed and not those of engine 1"),
                     0) +
             text.substr(1);
  return out;
}

}  // namespace

std::string compare_text(const Comparison& comparison, const Format& format) {
  const Lengths lengths(format);
  std::string out = "Engines side by side\n" + engines_text(comparison, lengths);
  out += wrapped("\n",
                 fmt::format("Least gaps over the cycle, {}; found rounded down, asked rounded up, differences to "
                             "nearest. ! = short of what is asked, x = parts touch, . = no difference, - = no such "
                             "row.",
                             lengths.unit_in_full()),
                 0);
  out += GapTable(comparison, lengths, format).text();
  out += differing_text(comparison);
  out += lifts_text(comparison, lengths);
  out += landings_text(comparison, lengths, format);
  out += fitting_text(comparison, format);
  out += '\n';
  for (std::size_t e = 0; e < comparison.checks.size(); ++e)
    out += wrapped(fmt::format("Conditions of {}: ", e + 1),
                   conditions_text(comparison.checks[e].conditions, lengths) + ".", 2);
  return out + kCaution + '\n';
}

}  // namespace eyebrow
