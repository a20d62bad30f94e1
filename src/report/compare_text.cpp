// Engines side by side as a builder reads them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "asked.hpp"
#include "eyebrow/compare_report.hpp"
#include "lines.hpp"
#include "verdict_text.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

const char* compared_verdict(Verdict verdict) {
  return verdict == Verdict::holds ? "holds" : verdict == Verdict::short_ ? "SHORT" : "CONTACT";
}

/// Rounded to nearest, with its sign; what rounds to nothing is a dot.
std::string signed_text(double mm, const Lengths& lengths) {
  if (!std::isfinite(mm)) return "";
  const std::string text = lengths.plain(mm);
  if (text == lengths.plain(0)) return ".";
  return mm > 0 ? '+' + text : text;
}

std::string table_line(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line + '\n';
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

bool nothing_new(const std::vector<Landing>& landings) {
  return std::ranges::all_of(landings, [&](const Landing& each) {
    if (each.engine == 0) return true;
    const auto base = std::ranges::find_if(
        landings, [&](const Landing& first) { return first.engine == 0 && first.valve == each.valve; });
    constexpr double kSamePlace = 1e-6;
    return base != landings.end() && each.piston == each.engine && std::fabs(base->x - each.x) < kSamePlace &&
           std::fabs(base->y - each.y) < kSamePlace && std::fabs(base->tilt_apart - each.tilt_apart) < kSamePlace &&
           std::fabs(base->radius_more - each.radius_more) < kSamePlace;
  });
}

std::string landing_text(const Landing& of, const Lengths& lengths) {
  const std::string whose = of.piston == of.engine ? fmt::format("{} own", of.engine + 1)
                                                   : fmt::format("{} on {}", of.engine + 1, of.piston + 1);
  std::string line = "  " + padded(whose, 8);
  if (of.pocket.empty()) return line + "no pocket there takes it\n";
  const bool centred = lengths.plain(of.offset()) == lengths.plain(0);
  line +=
      padded(of.pocket, 16) + fmt::format("{:>8}", lengths.plain(of.offset())) + "  " +
      padded(centred                ? "-"
             : std::isnan(of.clock) ? "?"
                                    : clock_text(of.clock),
             14) +
      fmt::format("{:>8}{:>8}{:>8}{:>9}", signed_text(of.x, lengths), signed_text(of.y, lengths),
                  degrees_text(std::round(of.tilt_apart / kDegree * 100) / 100 * kDegree), lengths.gap(of.radius_more));
  return table_line(line);
}

std::string around_text(const Landing& of, const Lengths& lengths) {
  if (of.pocket.empty()) return "";
  std::string line = "  " + padded(of.piston == of.engine ? fmt::format("{} own", of.engine + 1)
                                                          : fmt::format("{} on {}", of.engine + 1, of.piston + 1),
                                   8);
  if (std::isnan(of.rim_to_wall[0])) return line + "the valve stands on the bore axis and has no clock\n";
  for (const double gap : of.rim_to_wall) line += fmt::format("{:>7}", lengths.gap(gap));
  return table_line(line);
}

std::string landings_text(const Comparison& of, const Lengths& lengths) {
  if (of.landings.empty()) return "";
  if (nothing_new(of.landings)) return "\nEvery valve stands to its pocket as in engine 1.\n";
  std::string out = wrapped(
      "\n",
      fmt::format("Where the valves land on the pockets, {}. Piston at TDC, gasket and deck of the valve's own engine; "
                  "each valve pushed down its axis until its rim's centre is level with the crown flat. Off centre = "
                  "from the pocket's axis to the valve's, and toward where (x, y as in the file); more = the "
                  "pocket's radius less the rim's; own = on its own piston (on that of 1 only where its pocket is "
                  "bored otherwise). As the piston goes down from there a leaning valve walks across its pocket: "
                  "the radial gap above counts that.",
                  lengths.unit_in_full()),
      0);
  std::vector<std::string> valves;
  for (const Landing& each : of.landings)
    if (std::ranges::find(valves, each.valve) == valves.end()) valves.push_back(each.valve);
  for (const std::string& valve : valves) {
    out += "\nValve " + printable(valve) + '\n';
    out += "  " + padded("on", 8) + padded("pocket", 16) + "off by  " + padded("toward", 14) +
           fmt::format("{:>8}{:>8}{:>8}{:>9}\n", "x", "y", "tilt", "more");
    for (const Landing& each : of.landings)
      if (each.valve == valve) out += landing_text(each, lengths);
    std::string around;
    for (const Landing& each : of.landings)
      if (each.valve == valve) around += around_text(each, lengths);
    if (around.empty()) continue;
    out += "  " + padded("o'clock", 8);
    for (int hour = 0; hour < 12; ++hour) out += fmt::format("{:>7}", hour == 0 ? 12 : hour);
    out += "   rim to wall\n" + around;
  }
  out += wrapped("",
                 "Rim to wall: square to the pocket's axis, the wall taken as whole also where the crown's edge, "
                 "another pocket or the slope of the floor leaves none. `eyebrow check` of a file tells what its short "
                 "gaps ask for.",
                 0);
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
  out += landings_text(comparison, lengths);
  out += '\n';
  for (std::size_t e = 0; e < comparison.checks.size(); ++e)
    out += wrapped(fmt::format("Conditions of {}: ", e + 1),
                   conditions_text(comparison.checks[e].conditions, lengths) + ".", 2);
  return out + kCaution + '\n';
}

}  // namespace eyebrow
