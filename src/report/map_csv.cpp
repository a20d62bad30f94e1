#include <fmt/format.h>

#include "csv.hpp"
#include "eyebrow/map_report.hpp"
#include "words.hpp"

namespace eyebrow {

std::string map_csv(const MapResult& map, const Format& format) {
  const Lengths lengths(format);
  std::string out;
  for (const Varied& input : map.inputs) out += quoted(input.key + (input.unit.empty() ? "" : " " + input.unit)) + ',';
  for (const MapGap& gap : map.gaps) out += quoted(gap_name(gap) + " " + lengths.unit()) + ',';
  out += "verdict,no engine\n";
  for (std::size_t n = 0; n < map.cells.size(); ++n) {
    const MapCell& cell = map.cells[n];
    std::size_t rest = n;
    for (const Varied& input : map.inputs) {
      out += input_text(input.values[rest % input.values.size()]) + ',';
      rest /= input.values.size();
    }
    for (std::size_t i = 0; i < map.gaps.size(); ++i)
      out += (cell.possible() ? lengths.gap(cell.found[i]) : std::string()) + ',';
    out += (cell.possible() ? to_string(cell.verdict) : "") + (',' + quoted(cell.trouble)) + '\n';
  }
  return out;
}

}  // namespace eyebrow
