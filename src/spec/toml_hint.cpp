#include "spec/toml_hint.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <regex>

namespace eyebrow {
namespace {

/// The pattern matcher goes deeper with each character; no line of an engine file is near this long.
constexpr std::size_t kLongestLine = 300;

/// The line, without its end; empty when there is none.
std::string_view line_of(std::string_view text, int number) {
  for (int i = 1; i < number; ++i) {
    const auto end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  text = text.substr(0, text.find('\n'));
  if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
  return text;
}

/// The line with what stands in straight quotes made blank and its remark cut off, places kept.
std::string bare(std::string_view line) {
  std::string out(line);
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (out[i] == '#') {
      out.resize(i);
      break;
    }
    if (out[i] != '"' && out[i] != '\'') continue;
    const auto end = out.find(out[i], i + 1);
    if (end == std::string::npos) break;  // an open one stays: it may be the sign for inches
    std::fill(out.begin() + static_cast<long>(i), out.begin() + static_cast<long>(end) + 1, '_');
    i = end;
  }
  return out;
}

int column_of(const std::string& line, std::ptrdiff_t byte) {
  const auto starts = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; };
  return 1 + static_cast<int>(std::count_if(line.begin(), line.begin() + byte, starts));
}

struct Slip {
  std::regex pattern;  // its first group is the piece to change
  std::string advice;  // the groups after it as $2, $3, ...
};

const std::vector<Slip>& slips() {
  const auto rule = [](const char* pattern, const char* advice) { return Slip{std::regex(pattern), advice}; };
  static const std::vector<Slip> all = {
      rule("(\u201c|\u201d|\u201e|\u2018|\u2019|\u00ab|\u00bb)", "write straight quotes, \", on both sides"),
      rule("=\\s*(([+-]?[0-9.][^=,{}\"]*?)\\s*(?:\u00b1|\\+/-|\\+-)\\s*([0-9.](?:[^=,{}\"]*[^=,{}\" ])?))",
           "a number with its reading error stands in quotes: \"$2 \u00b1 $3\""),
      rule("=\\s*((?:\u00b1|\\+/-|\\+-)\\s*([0-9.](?:[^=,{}\"]*[^=,{}\" ])?))",
           "a tolerance stands in quotes: \"\u00b1 $2\""),
      rule(R"re(=\s*(([+-]?\d+),(\d+)))re", "write a decimal point: $2.$3"),
      rule(R"re(=\s*(([+-]?)(\.\d+)))re", "write the zero before the point: $020$3"),
      rule(R"re(=\s*(([+-]?\d+)\.)(?!\d))re", "write a digit after the point: $2.0"),
      rule(R"re(=\s*(([+-]?)0+([1-9][0-9.]*|0\.[0-9]+)))re", "write the number without zeros in front: $2$3"),
      rule(R"re(=\s*(([+-]?[0-9.]+)\s*(")))re", "write the unit as a word and both in quotes: \"$2 in\""),
      rule("=\\s*(([+-]?[0-9.]+(?:[ -][0-9]+)?(?:/[0-9]+)?)\\s*(mm|inches|inch|in|degrees|deg|rad|\u00b0)(?![a-z]))",
           "a number with a unit stands in quotes: \"$2 $3\""),
      rule(R"re(=\s*(([+-]?\d+(?:[ -]\d+)?/\d+)))re", "a fraction stands in quotes, with its unit: \"$2 in\""),
      rule(R"re(=\s*(([A-Za-z][A-Za-z0-9 -]*[A-Za-z0-9]|[A-Za-z])))re", "a word stands in quotes: \"$2\""),
      rule(R"re(^\s*(\[+([^\[\]={},]*))$)re", "close the table's header with a bracket: [$2]"),
      rule(R"re(^\s*(([A-Za-z_][A-Za-z0-9_.]*)\s*\]))re", "open the table's header with a bracket: [$2]"),
      rule(R"re(^\s*(([A-Za-z_][A-Za-z0-9_.]*))\s*$)re",
           "a table's header stands in brackets: [$2]; a value as $2 = ..."),
      rule(R"re(^\s*(([A-Za-z_][A-Za-z0-9_]*)\s*:?\s*([+-]?[0-9][0-9.]*))\s*$)re",
           "write = between the key and its value: $2 = $3"),
  };
  return all;
}

std::string without_end(std::string text) {
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.pop_back();
  return text;
}

/// The header above the line that stands on a line of its own; empty when there is none.
std::string header_above(std::string_view text, int line) {
  std::string header;
  int number = 0;
  while (++number < line) {
    const std::string one = without_end(bare(text.substr(0, std::min(text.find('\n'), kLongestLine))));
    if (one.size() > 2 && one.front() == '[' && one.back() == ']') header = one;
    text.remove_prefix(text.find('\n') + 1);  // there is one: `line` is further down
  }
  return header;
}

/// A key that is there already: most likely the header above it went.
std::optional<TomlHint> lost_header(std::string_view text, int line, std::string_view trouble) {
  if (trouble.find("redefine") == std::string_view::npos) return std::nullopt;
  const std::string header = header_above(text, line);
  const std::string here = header.empty() ? "here" : "in " + header;
  const std::string shown = without_end(bare(line_of(text, line)));
  const auto from = shown.find_first_not_of(" \t");
  if (from == std::string::npos || shown.size() > kLongestLine) return std::nullopt;
  if (shown[from] == '[')
    return TomlHint{
        line, static_cast<int>(from) + 1,
        fmt::format("the table {} stands twice: put both in one, or give one another name", shown.substr(from))};
  const std::string key = shown.substr(from, shown.find_first_of(" =\t", from) - from);
  return TomlHint{line, static_cast<int>(from) + 1,
                  fmt::format("\"{}\" stands twice {}: take one out; or has the header of the next table, such as "
                              "[pocket.exhaust], been lost above it?",
                              key, here)};
}

}  // namespace

std::optional<TomlHint> toml_hint(std::string_view text, int line, std::string_view trouble) {
  const std::string_view whole = line_of(text, line);
  if (whole.empty() || whole.size() > kLongestLine) return std::nullopt;
  if (auto lost = lost_header(text, line, trouble)) return lost;
  const std::string stripped = without_end(bare(whole));
  for (const Slip& slip : slips()) {
    std::smatch found;
    if (!std::regex_search(stripped, found, slip.pattern)) continue;
    return TomlHint{line, column_of(stripped, found.position(1)), found.format(slip.advice)};
  }
  return std::nullopt;
}

}  // namespace eyebrow
