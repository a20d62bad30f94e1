#include "spec/lift_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "spec/text_file.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// A wrong file has a fault in every row: the first few tell.
constexpr std::size_t kMostRowFaults = 5;
constexpr std::size_t kMostBytes = std::size_t{64} << 20;

struct Row {
  double angle = 0;  ///< crank degrees
  double lift = 0;   ///< mm
  int line = 0;
};

struct Field {
  std::string_view text;
  int column = 1;
};

/// Fields are parted by a comma, semicolon, tab or blanks.
std::vector<Field> fields_of(std::string_view line) {
  std::vector<Field> fields;
  std::size_t i = 0;
  const auto blank = [&](std::size_t at) { return line[at] == ' ' || line[at] == '\t' || line[at] == '\r'; };
  const auto mark = [&](std::size_t at) { return line[at] == ',' || line[at] == ';'; };
  while (i < line.size()) {
    while (i < line.size() && blank(i)) ++i;
    if (i == line.size()) break;
    const std::size_t from = i;
    while (i < line.size() && !blank(i) && !mark(i)) ++i;
    fields.push_back({line.substr(from, i - from), static_cast<int>(from) + 1});
    while (i < line.size() && blank(i)) ++i;
    if (i < line.size() && mark(i)) ++i;
  }
  return fields;
}

std::optional<double> number_in(std::string_view text) {
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

class Reader {
 public:
  Reader(Context& context, std::string path, const LiftTableFormat& format)
      : context_(context), path_(std::move(path)), format_(format) {}

  /// False when there are too many rows to go on.
  bool read(std::string_view text, const Place& where) {
    if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
    int line_number = 0;
    bool header_seen = false;
    while (!text.empty()) {
      const auto newline = text.find('\n');
      const std::string_view line = text.substr(0, newline);
      text.remove_prefix(newline == std::string_view::npos ? text.size() : newline + 1);
      ++line_number;
      const auto fields = fields_of(line);
      if (fields.empty() || fields.front().text.front() == '#') continue;
      if (rows_.empty() && !header_seen && !number_in(fields.front().text)) {
        header_seen = true;
        continue;
      }
      if (rows_.size() == kMostRows) {
        context_.fault(where, fmt::format("lift table {} has more than {} rows", path_, kMostRows));
        return false;
      }
      read_row(fields, line_number);
    }
    return true;
  }

  void check(const Place& where) {
    if (rows_.size() < kLeastRows) {
      if (faults_ == 0)
        context_.fault(where, fmt::format("lift table {} has {} {}; it needs at least {}", path_, rows_.size(),
                                          rows_.size() == 1 ? "row" : "rows", kLeastRows));
      return;
    }
    if (check_order()) check_steps();
    check_base(rows_.front(), "first");
    check_base(rows_.back(), "last");
  }

  bool good() const { return faults_ == 0; }

  LiftTable table() const {
    LiftTable table;
    table.about_centre = format_.about_centre;
    for (const Row& row : rows_) {
      table.angle.push_back(row.angle * kDegree);
      table.lift.push_back(row.lift);
    }
    return table;
  }

 private:
  void fault(int line, int column, const std::string& what) {
    if (++faults_ <= kMostRowFaults) context_.fault({path_, line, column}, what);
    if (faults_ == kMostRowFaults + 1)
      context_.fault({path_, line, 0}, "and more of the kind in the rows from here on");
  }

  void read_row(const std::vector<Field>& fields, int line) {
    Row row;
    row.line = line;
    rows_.push_back(row);  // a faulty row counts too
    if (fields.size() != 2) {
      fault(line, 0, fmt::format("a row has two numbers, angle and lift; found {}", fields.size()));
      return;
    }
    double numbers[2] = {0, 0};
    for (int i = 0; i < 2; ++i) {
      const auto number = number_in(fields[i].text);
      if (!number) {
        fault(line, fields[i].column,
              fmt::format("\"{}\" is not a number; a row has two, angle and lift", clipped(fields[i].text)));
        return;
      }
      numbers[i] = *number;
    }
    row.angle = numbers[0] * format_.crank_per_degree;
    row.lift = numbers[1] * format_.lift_factor;
    if (std::fabs(row.angle) > 720)
      fault(line, fields[0].column, fmt::format("angle {}: allowed is -720 to 720 crank degrees", fields[0].text));
    if (row.lift < 0)
      fault(line, fields[1].column,
            fmt::format("lift {} is negative: zero the readings on the base circle", fields[1].text));
    if (row.lift > 150)
      fault(line, fields[1].column, fmt::format("lift {} is absurd; allowed is 0 to 150 mm", fields[1].text));
    rows_.back() = row;
  }

  /// Only rows without faults are worth comparing.
  bool check_order() {
    if (faults_ != 0) return false;
    for (std::size_t i = 1; i < rows_.size(); ++i) {
      if (rows_[i].angle > rows_[i - 1].angle) continue;
      fault(rows_[i].line, 0,
            fmt::format("angle {:.10g} does not rise above the {:.10g} before it: sort the rows by angle, each once",
                        rows_[i].angle / format_.crank_per_degree, rows_[i - 1].angle / format_.crank_per_degree));
      return false;
    }
    return true;
  }

  void check_steps() {
    std::vector<double> steps;
    for (std::size_t i = 1; i < rows_.size(); ++i) steps.push_back(rows_[i].angle - rows_[i - 1].angle);
    std::vector<double> sorted = steps;
    std::nth_element(sorted.begin(), sorted.begin() + static_cast<long>(sorted.size() / 2), sorted.end());
    const double median = sorted[sorted.size() / 2];
    const double longest = std::fmin(kLongestStep, kLongestStepRatio * median);
    for (std::size_t i = 0; i < steps.size(); ++i) {
      if (steps[i] <= longest * (1 + 1e-9)) continue;
      fault(rows_[i + 1].line, 0,
            fmt::format(
                "a gap of {:.6g} crank degrees before this row; allowed is {:.6g} ({:.6g} times the usual step, at "
                "most {:.6g})",
                steps[i], longest, kLongestStepRatio, kLongestStep));
    }
  }

  void check_base(const Row& row, const char* which) {
    if (row.lift <= kBaseCircleLift) return;
    fault(row.line, 0,
          fmt::format("the {} lift is {}; the table must start and end on the base circle, at {} or less", which,
                      context_.length_text(row.lift), context_.length_text(kBaseCircleLift)));
  }

  Context& context_;
  std::string path_;
  LiftTableFormat format_;
  std::vector<Row> rows_;
  std::size_t faults_ = 0;
};

}  // namespace

std::optional<LiftTable> read_lift_table(Context& context, const std::string& path, const Place& where,
                                         const LiftTableFormat& format) {
  const TextFile file = read_text(path, {kMostBytes, SIZE_MAX});
  if (!file.trouble.empty()) {
    context.fault(where, fmt::format("lift table {}: {}", path, file.trouble));
    return std::nullopt;
  }
  Reader reader(context, path, format);
  if (!reader.read(file.text, where)) return std::nullopt;
  const std::size_t before = context.faults.size();
  reader.check(where);
  if (!reader.good() || context.faults.size() != before) return std::nullopt;
  return reader.table();
}

}  // namespace eyebrow
