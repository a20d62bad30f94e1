#include <fmt/format.h>

#include <cmath>

#include "csv.hpp"
#include "eyebrow/stack_report.hpp"
#include "words.hpp"

namespace eyebrow {

std::string stack_csv(const StackResult& stack, const Format& format) {
  const Lengths lengths(format);
  const std::string unit = lengths.unit();
  std::string out = "gap";
  for (const char* column : {"asked", "nominal", "worst case", "root sum square", "0.1 %", "1 %", "50 %", "99 %"})
    out += fmt::format(",{} {}", column, unit);
  out += ",share below asked,from,to,greatest part,its share of the variance\n";
  const auto plain = [](double value) { return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string(); };
  for (const StackGap& gap : stack.gaps) {
    out += quoted(gap_name(gap.gap)) + ',' + lengths.required(gap.gap.required);
    for (const double value : {gap.nominal, gap.worst.value, gap.rss, gap.p01, gap.p1, gap.p50, gap.p99})
      out += ',' + lengths.gap(value);
    for (const double share : {gap.share, gap.low, gap.high}) out += ',' + plain(share);
    out += gap.parts.empty()
               ? ",,"
               : ',' + quoted(stack.drivers[gap.parts.front().driver].label) + ',' + plain(gap.parts.front().share);
    out += '\n';
  }
  return out;
}

}  // namespace eyebrow
