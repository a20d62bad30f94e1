#include "spec/lift_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "spec/text_file.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// A wrong file has a fault in every row: the first few tell.
constexpr std::size_t kMostRowFaults = 5;
constexpr std::size_t kMostBytes = std::size_t{64} << 20;

constexpr double kWheel = 360;        ///< degrees on a degree wheel, of crank or cam
constexpr double kCycle = 720;        ///< crank degrees in a turn of the cam
constexpr double kSameAngle = 1e-6;   ///< rounding of decimals
constexpr double kLongestWrap = 300;  ///< table degrees: a lobe is open for more than the 60 left

struct Row {
  double angle = 0;  ///< crank degrees
  double lift = 0;   ///< mm
  int line = 0;
  int decimals = 0;  ///< of the lift as written
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

/// Digits after the decimal point: 3 in 0.430, 4 in 1.2e-3.
int decimals_of(std::string_view text) {
  const auto exponent = text.find_first_of("eE"), point = text.find('.');
  const std::string_view digits = text.substr(0, exponent);
  const int shown = point == std::string_view::npos ? 0 : static_cast<int>(digits.size() - point) - 1;
  if (exponent == std::string_view::npos) return shown;
  return shown - static_cast<int>(number_in(text.substr(exponent + 1)).value_or(0));
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
    if (faults_ != 0 || !put_in_order()) return;  // only rows without faults are worth comparing
    const double longest = longest_step();
    check_steps(longest);
    if (kCycle - span() > longest) {  // not all the way round
      check_base(rows_.front(), "first");
      check_base(rows_.back(), "last");
    }
    check_reading_error(where);
  }

  bool good() const { return faults_ == 0; }

  LiftTable table() const {
    LiftTable table;
    table.about_centre = format_.about_centre;
    table.reading_error = format_.reading_error.value_or(error_shown());
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
    row.decimals = decimals_of(fields[1].text);
    if (row.lift < kLowestLift)
      fault(line, fields[1].column,
            fmt::format("lift {} is negative by more than a base circle's run-out, {}: zero the indicator on the base "
                        "circle",
                        fields[1].text, context_.length_text(-kLowestLift)));
    if (row.lift > 150)
      fault(line, fields[1].column, fmt::format("lift {} is absurd; allowed is 0 to 150 mm", fields[1].text));
    rows_.back() = row;
  }

  bool on_base(std::size_t i) const { return rows_[i].lift <= kBaseCircleLift; }
  double span() const { return rows_.back().angle - rows_.front().angle; }

  /// Rising angles that go on past the end of the degree wheel, whichever way the rows run. False and a fault where
  /// they turn back.
  bool put_in_order() {
    const double wheel = kWheel * format_.crank_per_degree;
    int rising = 0;
    for (std::size_t i = 1; i < rows_.size(); ++i) rising += rows_[i].angle > rows_[i - 1].angle ? 1 : -1;
    const double way = rising >= 0 ? 1 : -1;
    double went = 0;
    std::vector<double> angles = {rows_[0].angle};
    for (std::size_t i = 1; i < rows_.size(); ++i) {
      double step = way * (rows_[i].angle - rows_[i - 1].angle);
      const bool wraps = step < 0;
      if (wraps) step += wheel;
      const bool beside = step > 0 && step <= kLongestStep + kSameAngle;
      const bool over_base = on_base(i - 1) && on_base(i) && step <= kLongestWrap * format_.crank_per_degree;
      if (step <= kSameAngle || (wraps && !beside && !over_base)) {
        fault(rows_[i].line, 0,
              fmt::format("angle {:.10g} after {:.10g}, where the rows {}: they go one way all along, each angle once, "
                          "and pass the wheel's 360 to go on",
                          rows_[i].angle / format_.crank_per_degree, rows_[i - 1].angle / format_.crank_per_degree,
                          way > 0 ? "rise" : "fall"));
        return false;
      }
      went += step;
      if (went > kCycle + kSameAngle) {
        fault(rows_[i].line, 0,
              fmt::format("here the rows have gone {:.6g} crank degrees on from the first; the cam turns once in 720{}",
                          went,
                          format_.crank_per_degree > 1 ? ": are the angles crank degrees, and table_degrees "
                                                         "\"crank\"?"
                                                       : ""));
        return false;
      }
      angles.push_back(rows_[0].angle + way * went);
    }
    for (std::size_t i = 0; i < rows_.size(); ++i) rows_[i].angle = angles[i];
    if (way < 0) std::reverse(rows_.begin(), rows_.end());
    return true;
  }

  /// Crank degrees that two readings may be apart.
  double longest_step() const {
    std::vector<double> steps;
    for (std::size_t i = 1; i < rows_.size(); ++i) steps.push_back(rows_[i].angle - rows_[i - 1].angle);
    const auto middle = steps.begin() + static_cast<long>(steps.size() / 2);
    std::nth_element(steps.begin(), middle, steps.end());
    return std::fmin(kLongestStep, kLongestStepRatio * *middle) * (1 + 1e-9);
  }

  /// Readings on the base circle may be as far apart as they like.
  void check_steps(double longest) {
    for (std::size_t i = 1; i < rows_.size(); ++i) {
      const double step = rows_[i].angle - rows_[i - 1].angle;
      if (step <= longest || (on_base(i - 1) && on_base(i))) continue;
      fault(rows_[i].line, 0,
            fmt::format(
                "a gap of {:.6g} crank degrees before this row; allowed is {:.6g} ({:.6g} times the usual step, at "
                "most {:.6g})",
                step, longest, kLongestStepRatio, kLongestStep));
    }
  }

  /// Half of the last digit that any lift shows, mm.
  double error_shown() const {
    int decimals = rows_.front().decimals;
    for (const Row& row : rows_) decimals = std::max(decimals, row.decimals);
    return std::max(kLeastReadingError, 0.5 * std::pow(10.0, -decimals) * format_.lift_factor);
  }

  void check_reading_error(const Place& where) {
    if (format_.reading_error || error_shown() <= kMostErrorShown) return;
    ++faults_;
    context_.fault(where,
                   fmt::format("lift table {}: its lifts are written to {} only, which leaves {} open; state the "
                               "reading_error that they have",
                               path_, context_.length_text(2 * error_shown()), context_.length_text(error_shown())));
  }

  void check_base(const Row& row, const char* which) {
    if (row.lift <= kBaseCircleLift) return;
    const bool one_wheel = format_.crank_per_degree == 1 && std::fabs(span() - kWheel) <= longest_step();
    fault(row.line, 0,
          fmt::format("the {} lift is {}; the table must start and end on the base circle, at {} or less{}", which,
                      context_.length_text(row.lift), context_.length_text(kBaseCircleLift),
                      one_wheel ? ": its rows span 360 crank degrees, half a turn of the cam; are they cam degrees?"
                                : ", or go all the way round: a table that begins at a checking lift, as an advertised "
                                  "duration does, lacks its ramps"));
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
