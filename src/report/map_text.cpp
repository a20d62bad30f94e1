// A map of least gaps as text: a column a kind of gap over one input, a table of one number over two.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "eyebrow/map_report.hpp"
#include "lines.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

/// The gaps that share a column: of all valves the one with the least margin is told.
struct Column {
  std::string title;
  std::vector<std::size_t> gaps;
};

std::vector<Column> columns_of(const MapResult& map, const std::vector<std::size_t>& chosen) {
  std::vector<Column> columns;
  for (const std::size_t gap : chosen) columns.push_back({gap_name(map.gaps[gap]), {gap}});
  if (!columns.empty()) return columns;
  static const std::map<std::string, std::string> kShort = {
      {"valve to valve", "valves"}, {"valve to bore", "bore"}, {"piston to head", "head"}};
  for (std::size_t i = 0; i < map.gaps.size(); ++i) {
    if (map.gaps[i].running) continue;  // they are chosen by name
    const auto shorter = kShort.find(map.gaps[i].what);
    const std::string title = shorter == kShort.end() ? map.gaps[i].what : shorter->second;
    const auto same = std::ranges::find_if(columns, [&](const Column& column) { return column.title == title; });
    if (same == columns.end())
      columns.push_back({title, {i}});
    else
      same->gaps.push_back(i);
  }
  return columns;
}

/// The valves of a gap's name: two of a pair, none of the head.
std::vector<std::string> valve_names(const MapGap& gap) {
  const std::string between = " / ";
  const auto at = gap.what == "valve to valve" ? gap.valve.find(between) : std::string::npos;
  if (at != std::string::npos) return {gap.valve.substr(0, at), gap.valve.substr(at + between.size())};
  if (gap.valve.empty()) return {};
  return {gap.valve};
}

/// What stands behind a number in a column that holds the gaps of several valves: whose it is. First letters, where no
/// two valves share one; else numbers.
class ValveMarks {
 public:
  explicit ValveMarks(const MapResult& map) {
    std::string letters;
    for (const MapGap& gap : map.gaps)
      for (const std::string& name : valve_names(gap))
        if (std::ranges::find(names_, name) == names_.end()) {
          names_.push_back(name);
          lettered_ &= static_cast<unsigned char>(name[0]) < 0x80 && letters.find(name[0]) == std::string::npos;
          letters += name[0];
        }
  }
  std::string of(const MapGap& gap) const {
    std::string mark;
    for (const std::string& name : valve_names(gap)) mark += mark_of(name);
    return mark;
  }
  std::string legend() const {
    std::string out;
    for (const std::string& name : names_)
      out += fmt::format("{}{} = {}", out.empty() ? "" : ", ", mark_of(name), printable(name, 40));
    return out;
  }

 private:
  std::string mark_of(const std::string& name) const {
    return lettered_ ? name.substr(0, 1) : fmt::format("{}", std::ranges::find(names_, name) - names_.begin() + 1);
  }
  std::vector<std::string> names_;
  bool lettered_ = true;
};

/// Of the column's gaps the tightest, as tightest_gap has it; -1 = none is measured.
int tightest_of(const MapCell& cell, const std::vector<std::size_t>& gaps) {
  MapCell some;
  for (const std::size_t gap : gaps) {
    some.margin.push_back(cell.margin[gap]);
    some.holds.push_back(cell.holds[gap]);
  }
  const int found = tightest_gap(some);
  return found < 0 ? -1 : static_cast<int>(gaps[static_cast<std::size_t>(found)]);
}

char sign_of(double found, bool holds, const MapGap& gap) {
  if (found < 0 && gap.what != "radial") return 'x';
  return holds ? ' ' : '!';
}

std::string value_text(const MapCell& cell, const std::vector<std::size_t>& gaps, const MapResult& map,
                       const Lengths& lengths) {
  const int gap = tightest_of(cell, gaps);
  if (gap < 0) return "none ";
  const auto i = static_cast<std::size_t>(gap);
  return (std::isnan(cell.found[i]) ? "none" : lengths.gap(cell.found[i])) +
         sign_of(cell.found[i], cell.holds[i], map.gaps[i]);
}

const char* verdict_word(Verdict verdict) {
  return verdict == Verdict::holds ? "holds" : verdict == Verdict::short_ ? "SHORT" : "CONTACT";
}

std::string with_unit(const Varied& input, double value) {
  return fmt::format("{}{}{}", input_text(value), input.unit.empty() ? "" : " ", input.unit);
}

std::string heading(const MapResult& map) {
  std::string over;
  for (const Varied& input : map.inputs)
    over += fmt::format("{}{} from {} to {}", over.empty() ? "" : " and ", input.key, input_text(input.values.front()),
                        with_unit(input, input.values.back()));
  std::string out = wrapped("", printable(map.engine, kWidth), 0);
  out += wrapped("", "Least gaps over the cycle, " + over + ".", 0);
  for (const std::string& change : map.changed) out += wrapped("With ", printable(change, kWidth), 2);
  return out;
}

std::string troubles(const MapResult& map) {
  std::map<std::string, int> told;
  for (const MapCell& cell : map.cells)
    if (!cell.possible()) ++told[cell.trouble];
  std::string out;
  constexpr std::size_t kMost = 5;
  std::size_t count = 0;
  for (const auto& [why, cells] : told) {
    if (count++ == kMost) {
      out += fmt::format("no engine, for {} reasons more\n", told.size() - kMost);
      break;
    }
    out += wrapped("", fmt::format("no engine at {} of {}: {}", cells, map.cells.size(), printable(why, 300)), 2);
  }
  return out;
}

std::string over_one(const MapResult& map, const Lengths& lengths, const std::vector<std::size_t>& chosen) {
  const Varied& input = map.inputs.front();
  const std::vector<Column> columns = columns_of(map, chosen);
  const ValveMarks marks(map);
  std::vector<int> width, mark;  // `mark`: part of it, 0 where the column's title says whose it is
  for (const Column& column : columns) {
    mark.push_back(0);
    if (column.gaps.size() > 1)
      for (const std::size_t gap : column.gaps)
        mark.back() = std::max(mark.back(), 1 + static_cast<int>(marks.of(map.gaps[gap]).size()));
    width.push_back(std::max(9, static_cast<int>(column.title.size()) + 2) + mark.back());
  }
  const int first = std::max(14, static_cast<int>(input.key.size()) + 2);
  std::string out = fmt::format("{:>{}}", input.key, first);
  for (std::size_t c = 0; c < columns.size(); ++c)
    out += fmt::format("{:>{}} {:{}}", columns[c].title, width[c] - mark[c] - 1, "", mark[c]);
  out += "  verdict  least margin\n";
  for (std::size_t i = 0; i < input.values.size(); ++i) {
    const MapCell& cell = map.at(i);
    out += fmt::format("{:>{}}", with_unit(input, input.values[i]), first);
    if (!cell.possible()) {
      out += "   no engine\n";
      continue;
    }
    for (std::size_t c = 0; c < columns.size(); ++c) {
      const int of = mark[c] > 0 ? tightest_of(cell, columns[c].gaps) : -1;
      out += fmt::format("{:>{}}{:{}}", value_text(cell, columns[c].gaps, map, lengths), width[c] - mark[c],
                         of < 0 ? "" : marks.of(map.gaps[static_cast<std::size_t>(of)]), mark[c]);
    }
    const int gap = tightest_gap(cell);
    out += fmt::format("  {:9}", verdict_word(cell.verdict));
    if (gap >= 0) {
      const auto g = static_cast<std::size_t>(gap);
      out += std::isnan(cell.margin[g]) ? "none: " : lengths.gap(cell.margin[g]) + " ";
      out += printable(gap_name(map.gaps[g]), 40);
    }
    out += '\n';
  }
  return out;
}

std::string over_two(const MapResult& map, const Lengths& lengths, const std::vector<std::size_t>& chosen) {
  const Varied &across = map.inputs[1], &down = map.inputs[0];
  const auto text = [&](const MapCell& cell) -> std::string {
    if (!cell.possible()) return "- ";
    if (!chosen.empty()) return value_text(cell, {chosen.front()}, map, lengths);
    const int gap = tightest_gap(cell);
    if (gap < 0) return "none ";
    const auto g = static_cast<std::size_t>(gap);
    return (std::isnan(cell.margin[g]) ? "none" : lengths.gap(cell.margin[g])) + (cell.verdict == Verdict::contact ? 'x'
                                                                                  : cell.verdict == Verdict::holds
                                                                                      ? ' '
                                                                                      : '!');
  };
  const int first = 12;
  int width = 9;
  for (const double value : across.values) width = std::max(width, static_cast<int>(input_text(value).size()) + 2);
  const auto fit = static_cast<std::size_t>((kWidth - first) / width);
  std::string out;
  for (std::size_t from = 0; from < across.values.size(); from += fit) {
    const std::size_t to = std::min(across.values.size(), from + fit);
    out += fmt::format("\n{} ({}) down, {} ({}) across\n{:{}}", down.key, down.unit.empty() ? "number" : down.unit,
                       across.key, across.unit.empty() ? "number" : across.unit, "", first);
    for (std::size_t k = from; k < to; ++k) out += fmt::format("{:>{}} ", input_text(across.values[k]), width - 1);
    out += '\n';
    for (std::size_t i = 0; i < down.values.size(); ++i) {
      out += fmt::format("{:>{}}", input_text(down.values[i]), first - 1) + ' ';
      for (std::size_t k = from; k < to; ++k) out += fmt::format("{:>{}}", text(map.at(i, k)), width);
      out += '\n';
    }
  }
  return out;
}

std::string end_text(const MapResult& map, const AllowedRange::End& end, const char* side) {
  const Varied& input = map.inputs.front();
  if (end.open) return fmt::format("{} {} was not looked at", side, with_unit(input, end.at));
  std::string why;
  if (end.gap < 0) {
    why = "there is no engine: " + printable(end.trouble, 200);
  } else {
    const MapGap& gap = map.gaps[static_cast<std::size_t>(end.gap)];
    why = printable(gap_name(gap), 60) + " is short";
  }
  std::string out = fmt::format("{} {}, {}", side, with_unit(input, end.at), why);
  if (std::isfinite(end.contact)) out += fmt::format("; from {} on parts touch", with_unit(input, end.contact));
  return out;
}

}  // namespace

std::string input_text(double value) {
  // As it was typed, for all that counting in steps adds in the last places.
  std::string text = fmt::format("{:.10g}", value);
  return text == "-0" ? "0" : text;
}

std::string allowed_text(const MapResult& map) {
  const Varied& input = map.inputs.front();
  std::string out;
  if (map.allowed.empty())
    return wrapped(
        "", fmt::format("{} may have none of the values looked at: some asked gap is short at each.", input.key), 0);
  for (const AllowedRange& range : map.allowed)
    out += wrapped("",
                   fmt::format("{} may go from {} to {}: {}; {}.", input.key, with_unit(input, range.low.at),
                               with_unit(input, range.high.at), end_text(map, range.low, "below"),
                               end_text(map, range.high, "above")),
                   2);
  if (std::isfinite(input.now)) out += fmt::format("Today it is {}.\n", with_unit(input, input.now));
  return out;
}

std::string map_text(const MapResult& map, const Format& format, const std::vector<std::size_t>& chosen) {
  const Lengths lengths(format);
  std::string out = heading(map);
  const bool one = map.inputs.size() == 1;
  std::string what = "Each is what a check judges, over every crank angle, cam position and lobe that it allows";
  if (one)
    what += chosen.empty() ? "; of all valves the one with the least margin, " + ValveMarks(map).legend() : "";
  else
    what =
        chosen.empty() ? "The least margin of all asked gaps (found less asked)" : gap_name(map.gaps[chosen.front()]);
  out +=
      wrapped("",
              fmt::format("{}. Lengths in {}, rounded down. ! = short of what is asked, x = parts touch, - = no such "
                          "engine.",
                          what, lengths.unit_in_full()),
              0);
  out += one ? '\n' + over_one(map, lengths, chosen) : over_two(map, lengths, chosen);
  const std::string why = troubles(map);
  if (!why.empty()) out += '\n' + why;
  return out;
}

}  // namespace eyebrow
