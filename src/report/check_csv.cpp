// The series as comma-separated values.
#include <fmt/format.h>

#include "csv.hpp"
#include "eyebrow/report.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

double at(const std::vector<double>& column, std::size_t row) {
  return row < column.size() ? column[row] : NAN;
}

std::string titles(const Lengths& lengths) {
  return fmt::format(
      "valve,crank_deg,lift_{0},piston_depth_{0},travel_{0},face_{0},radial_{0},closest_{0},entry_{0},"
      "travel_from_seat_{0},greatest_lift_{0}\n",
      lengths.unit());
}

/// `first`: what stands before each row.
std::string rows(const CheckResult& result, const Lengths& lengths, const std::string& first) {
  std::string out;
  for (const ValveResult& valve : result.valves) {
    const Series& series = valve.series;
    const std::string name = first + quoted(valve.name);
    for (std::size_t i = 0; i < series.crank.size(); ++i)
      out += fmt::format(
          "{},{},{},{},{},{},{},{},{},{},{}\n", name, degrees_text(series.crank[i]), lengths.plain(at(series.lift, i)),
          lengths.plain(at(series.piston_depth, i)), lengths.gap(at(series.travel, i)), lengths.gap(at(series.face, i)),
          lengths.gap(at(series.radial, i)), lengths.gap(at(series.closest, i)), lengths.plain(at(series.entry, i)),
          lengths.gap(at(series.drop_travel, i)), lengths.gap(at(series.greatest_lift, i)));
  }
  return out;
}

}  // namespace

std::string check_csv(const CheckResult& result, const Format& format) {
  const Lengths lengths(format);
  return titles(lengths) + rows(result, lengths, "");
}

std::string check_csv(const CylindersResult& result, const Format& format) {
  const Lengths lengths(format);
  std::string out = "cylinder," + titles(lengths);
  for (const CheckResult& each : result.each) out += rows(each, lengths, quoted(each.conditions.cylinder) + ',');
  return out;
}

}  // namespace eyebrow
