// Where the valves of compared engines land on the pockets.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "compare_words.hpp"
#include "lines.hpp"

namespace eyebrow {
namespace {

constexpr int kWhose = 8, kPocketName = 16, kToward = 14;

/// Whose valve on whose piston.
std::string landing_whose(const Landing& of) {
  const std::string text = of.piston == of.engine ? fmt::format("{} own", of.engine + 1)
                                                  : fmt::format("{} on {}", of.engine + 1, of.piston + 1);
  return "  " + padded(text, kWhose);
}

bool lands_as_in_first(const std::vector<Landing>& landings, const Landing& each) {
  constexpr double kSameLanding = 1e-6;  // mm, radians
  const auto same = [](double a, double b) { return std::fabs(a - b) < kSameLanding; };
  const auto base = std::ranges::find_if(
      landings, [&](const Landing& first) { return first.engine == 0 && first.valve == each.valve; });
  return base != landings.end() && each.piston == each.engine && same(base->x, each.x) && same(base->y, each.y) &&
         same(base->tilt_apart, each.tilt_apart) && same(base->radius_more, each.radius_more);
}

class LandingTable {
 public:
  LandingTable(const std::vector<Landing>& landings, const Lengths& lengths, const Format& format)
      : landings_(landings),
        lengths_(lengths),
        number_(std::max(8, 5 + std::max(format.digits, 0))),
        hour_(std::max(7, 5 + std::max(format.digits, 0))) {}

  std::string of_valve(const std::string& valve) const {
    std::string offsets, around;
    for (const Landing& each : landings_) {
      if (each.valve != valve) continue;
      offsets += offset_row(each);
      around += around_row(each);
    }
    std::string out = "\nValve " + printable(valve) + '\n' + offset_head() + offsets;
    return around.empty() ? out : out + around_head() + around;
  }

 private:
  std::string offset_head() const {
    return "  " + padded("on", kWhose) + padded("pocket", kPocketName) +
           fmt::format("{:>{}}  {}{:>{}}{:>{}}{:>{}}{:>{}}\n", "off by", number_, padded("toward", kToward), "x",
                       number_, "y", number_, "tilt", 8, "more", number_ + 1);
  }
  std::string offset_row(const Landing& of) const {
    std::string line = landing_whose(of);
    if (of.pocket.empty()) return line + "no pocket there takes it\n";
    const bool centred = lengths_.plain(of.offset()) == lengths_.plain(0);
    const std::string toward = centred ? "-" : std::isnan(of.clock) ? "?" : clock_text(of.clock);
    const std::string tilt = degrees_text(std::round(of.tilt_apart / kDegree * 100) / 100 * kDegree);
    line += padded(of.pocket, kPocketName - 1) + ' ' +
            fmt::format("{:>{}}  {}{:>{}}{:>{}}{:>{}}{:>{}}", lengths_.plain(of.offset()), number_,
                        padded(toward, kToward), signed_text(of.x, lengths_), number_, signed_text(of.y, lengths_),
                        number_, tilt, 8, lengths_.gap(of.radius_more), number_ + 1);
    return table_line(line);
  }
  std::string around_head() const {
    std::string out = "  " + padded("o'clock", kWhose);
    for (int hour = 0; hour < 12; ++hour) out += fmt::format("{:>{}}", hour == 0 ? 12 : hour, hour_);
    return out + "   rim to wall\n";
  }
  std::string around_row(const Landing& of) const {
    if (of.pocket.empty()) return "";
    std::string line = landing_whose(of);
    if (std::isnan(of.rim_to_wall[0])) return line + "the valve stands on the bore axis and has no clock\n";
    for (const double gap : of.rim_to_wall) line += fmt::format("{:>{}}", lengths_.gap(gap), hour_);
    return table_line(line);
  }

  const std::vector<Landing>& landings_;
  const Lengths& lengths_;
  int number_, hour_;  ///< columns of a number
};

}  // namespace

std::string landings_text(const Comparison& comparison, const Lengths& lengths, const Format& format) {
  const std::vector<Landing>& landings = comparison.landings;
  if (landings.empty()) return "";
  if (std::ranges::all_of(landings,
                          [&](const Landing& each) { return each.engine == 0 || lands_as_in_first(landings, each); }))
    return "\nEvery valve stands to its pocket as in engine 1.\n";
  std::string out = wrapped(
      "\n",
      fmt::format("Where the valves land on the pockets, {}. Piston at TDC, gasket and deck of the valve's own engine; "
                  "each valve pushed down its axis until its rim's centre is level with the crown flat. Off by = from "
                  "the pocket's axis to the valve's, and toward where (x, y as in the file); tilt = degrees between "
                  "the axes; more = the pocket's radius less the rim's; own = on its own piston (on that of 1 only "
                  "where its pocket is bored otherwise). As the piston goes down from there a leaning valve walks "
                  "across its pocket: the radial gap above counts that.",
                  lengths.unit_in_full()),
      0);
  std::vector<std::string> valves;
  for (const Landing& each : landings)
    if (std::ranges::find(valves, each.valve) == valves.end()) valves.push_back(each.valve);
  const LandingTable table(landings, lengths, format);
  for (const std::string& valve : valves) out += table.of_valve(valve);
  return out + wrapped("",
                       "Rim to wall: square to the pocket's axis, the wall taken as whole also where the crown's "
                       "edge, another pocket or the slope of the floor leaves none.",
                       0);
}

}  // namespace eyebrow
