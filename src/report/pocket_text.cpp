#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "crown_left_text.hpp"
#include "eyebrow/pocket_report.hpp"
#include "lines.hpp"
#include "pocket_words.hpp"
#include "stack_words.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

constexpr int kPocketLabel = 26, kPocketNumber = 12;

class PocketTable {
 public:
  PocketTable(const PocketResult& result, const Format& format)
      : result_(result), unit_(format.units), lengths_(format) {}

  std::string head() const {
    const std::string within = result_.within ? " " + within_text(*result_.within) : "";
    std::string out = wrapped("", printable(result_.engine_name, kWidth), 0);
    for (const std::string& change : result_.changed) out += wrapped("With ", printable(change, kWidth), 2);
    return out +
           wrapped("",
                   fmt::format("{}{}. Lengths in {}; pockets to the step that they are sized in ({} {}). x, y: where "
                               "the pocket's axis crosses the crown flat.",
                               !result_.wish.existing ? "The least pockets that leave every asked gap"
                               : result_.within       ? "The pockets that are there, deeper and wider by the least "
                                                        "that leaves every asked gap"
                                                      : "The pockets that are there, deeper and wider by the least",
                               within, lengths_.unit_in_full(), cut_text(result_.step, unit_), lengths_.unit()),
                   0);
  }

  std::string pocket(const SizedPocket& one) const {
    const Valve& valve = result_.engine.valves[static_cast<std::size_t>(one.valve)];
    if (!one.needed)
      return wrapped(
          "\n",
          fmt::format("Valve {}: NO POCKET IS NEEDED, the plain crown leaves every asked gap{}.", printable(valve.name),
                      one.before ? "; the pocket that is there is left as it is" : ""),
          2);
    const std::string now = one.before ? "as it is" : "none";
    std::string out =
        fmt::format("\n{}{:>{}}{:>{}}\n", padded("Pocket " + printable(one.pocket.name, 16), kPocketLabel), now,
                    kPocketNumber, one.changed ? "sized" : "stays", kPocketNumber);
    const auto row = [&](const char* what, const std::string& was, const std::string& is,
                         const std::string& more = {}) {
      std::string line = fmt::format("  {:<{}}{:>{}}{:>{}}", what, kPocketLabel - 2, one.before ? was : "-",
                                     kPocketNumber, is, kPocketNumber);
      if (!more.empty()) line += "   " + printable(more, 46);
      return line + '\n';
    };
    const Pocket before = one.before.value_or(Pocket{});
    const Pocket& is = one.pocket;
    const auto mm = [&](double value) { return cut_text(value, unit_); };
    out += row("x", mm(before.x), mm(is.x));
    out += row("y", mm(before.y), mm(is.y));
    out += row("tilt, deg", angle_text(before.tilt), angle_text(is.tilt));
    if (is.tilt > 0 || before.tilt > 0) out += row("lean, deg", angle_text(before.lean), angle_text(is.lean));
    out += row("diameter", mm(before.diameter), mm(is.diameter), bound_text(one.diameter));
    const auto depth = [&](const char* what) { return fmt::format("depth ({})", what); };
    if (one.before && before.depth_to != is.depth_to) {
      out += row(depth(depth_word(before.depth_to)).c_str(), mm(before.depth), "-");
      out += row(depth(depth_word(is.depth_to)).c_str(), "-", mm(is.depth), bound_text(one.depth));
    } else {
      out += row(depth(depth_word(is.depth_to)).c_str(), mm(before.depth), mm(is.depth), bound_text(one.depth));
    }
    out += row("corner radius", mm(before.corner_radius), mm(is.corner_radius));
    out += fmt::format("  removes {:.2f} cm3, under valve {}\n", one.volume / 1000, printable(valve.name));
    if (const std::string place = place_text(one, unit_); !place.empty())
      out += wrapped("  place, ", printable(place, 300), 4);
    for (const Miss& miss : one.misses)
      out += wrapped("  DOES NOT LEAVE ", printable(miss.what, 80) + shortfall_text(miss, result_, lengths_), 4);
    return out;
  }

  std::string gaps() const {
    std::string out =
        fmt::format("\n{:<40}{:>10}{:>10}{:>10}\n", "Gaps with these pockets", "found", "asked", "margin");
    for (const AskedRow& row : result_.asked) {
      const std::string name = gap_name({row.what, row.valve, row.required, row.running});
      const std::string found = lengths_.gap(row.found);
      out += fmt::format("  {}{:>10}{:>10}{:>10}{}\n", padded(name, 38), found.empty() ? "none" : found,
                         lengths_.required(row.required), lengths_.gap(row.margin),
                         row.holds        ? "  holds"
                         : row.found <= 0 ? "  CONTACT"
                                          : "  SHORT");
    }
    return out;
  }

  std::string tolerances() const {
    if (!result_.within) return "";
    const PocketsWithin& within = *result_.within;
    std::string out = fmt::format("\n{:<40}{:>10}{:>10}{:>10}{:>10}\n", "Within the tolerances", "asked", "kept",
                                  "nominal", within.share ? fmt::format("{:.6g} %", 100 * *within.share) : "worst");
    std::string before;
    for (const GapWithin& gap : within.gaps) {
      const auto gap_or_none = [&](double mm) { return std::isfinite(mm) ? lengths_.gap(mm) : "none"; };
      out += fmt::format("  {}{:>10}{:>10}{:>10}{:>10}{}\n", padded(gap_name(gap.gap), 38),
                         lengths_.required(gap.gap.required), cut_text(gap.kept, unit_), gap_or_none(gap.nominal),
                         gap_or_none(gap.least), gap.holds ? "  holds" : "  SHORT");
      std::string by;
      for (const auto& [driver, takes] : gap.by)
        by += fmt::format("{}{} {}", by.empty() ? "" : ", ", printable(driver, 48), cut_text(takes, unit_));
      if (!by.empty() && by != before) out += wrapped("    most by ", by, 6);
      before = by;
    }
    out += wrapped("  ",
                   fmt::format("asked, and what the tolerances were seen to take, kept beside it; {}. The most each by "
                               "itself, at its worse end.",
                               within.share ? "then what that share of engines has at least of each gap alone"
                                            : "then the least anywhere within the tolerances"),
                   2);
    if (within.share)
      out += wrapped(
          "  ",
          fmt::format("Of {} engines drawn (seed {}) {:.4f} % leave all of these gaps; 95 % interval {:.4f} "
                      "to {:.4f} % (Clopper and Pearson, with twice what the surface is off).",
                      within.samples, within.seed, 100 * within.found, floored(100 * within.low), 100 * within.high),
          2);
    out += wrapped(
        "  ",
        fmt::format(
            "{}As `eyebrow stack` finds it, of the sized engine: {} engines computed exactly, the "
            "surface through them off by {} at most at {} others. Tolerances of a pocket that is "
            "new, which the file does not state, count as none. Sized {} time{}.",
            within.endless && !within.share ? "A tolerance stated by its deviation counts to 3 deviations. " : "",
            within.engines, off_text(within.off, unit_), within.checked, within.rounds, within.rounds == 1 ? "" : "s"),
        2);
    if (!within.holds) out += wrapped("  ", "NOT SHOWN: " + printable(within.why, 200) + ".", 2);
    return out;
  }

  std::string crown() const {
    std::string out = crown_left_text(result_.left, lengths_);
    out += fmt::format("\nThe pockets take {:.2f} cm3 of the crown, {:.2f} cm3 before.\n", result_.volume / 1000,
                       result_.volume_before / 1000);
    if (result_.compression && result_.compression_before)
      out += wrapped(
          "",
          fmt::format("Compression {}, {} before; with the chamber's volume as it is stated.",
                      ratio_text(result_.compression->ratio()), ratio_text(result_.compression_before->ratio())),
          2);
    return out;
  }

  std::string costs() const {
    if (result_.costs.empty()) return "";
    std::string out = "\nWhat the asked gaps cost: by the pockets' closed-form model\n";
    for (const AskedCost& cost : result_.costs) {
      std::string text =
          fmt::format("{}: {} asked, {} {} less would leave {:.3f} cm3 more metal", cost.gap.valve, cost.gap.what,
                      lengths_.plain(cost.less), lengths_.unit(), std::max(0.0, cost.volume) / 1000);
      if (!std::isnan(cost.ratio))
        text += fmt::format(" and add {:.3f} to the compression ratio", std::max(0.0, cost.ratio));
      out += wrapped("  ", text, 4);
    }
    return out;
  }

  std::string verdict() const {
    std::string out = "\n";
    if (!result_.fits()) {
      out += "NO SUCH POCKET FITS: these come as near as was found, and something that is asked is missing.\n";
      for (const SizedPocket& one : result_.pockets)
        for (const Miss& miss : one.misses)
          out += wrapped("  ",
                         fmt::format("pocket {}: {}{}", printable(one.pocket.name, 40), printable(miss.what, 60),
                                     shortfall_text(miss, result_, lengths_)),
                         4);
    } else if (result_.within) {
      out += wrapped("",
                     fmt::format("Every asked gap of the valves to the piston is there, {}, as a stack of this engine "
                                 "tells it.",
                                 within_text(*result_.within)),
                     2);
    } else {
      out += "Every asked gap of the valves to the piston is there, as a check of this engine tells it.\n";
    }
    const bool others = std::ranges::any_of(result_.asked, [](const AskedRow& row) {
      return !row.holds &&
             (row.what == "valve to valve" || row.what == "valve to bore" || row.what == "piston to head");
    });
    if (others) out += "Gaps that no pocket can mend are short: see above.\n";
    const bool unknown = std::ranges::any_of(
        result_.left, [](const MetalLeft& left) { return left.state == MetalLeft::State::not_known; });
    if (unknown)
      out += wrapped("", "CROWN LEFT IS NOT KNOWN at some of these walls: measure it before anything is cut.", 2);
    return out + wrapped("",
                         std::string("Caution: the least that the numbers in the file allow, with nothing in hand") +
                             (result_.within ? " but for the tolerances that it states" : "") +
                             ": ask for more than the least. An aid, no permission to cut: a deeper pocket is a "
                             "thinner crown, and the "
                             "piston maker's limits rule. Confirm on the assembled engine, turned by hand.",
                         2);
  }

 private:
  /// No share is told that is more than what was shown.
  static double floored(double percent) { return std::floor(percent * 1e4) / 1e4; }

  const PocketResult& result_;
  LengthUnit unit_;
  Lengths lengths_;
};

}  // namespace

std::string pocket_text(const PocketResult& result, const Format& format) {
  const PocketTable table(result, format);
  std::string out = table.head();
  for (const SizedPocket& one : result.pockets) out += table.pocket(one);
  return out + table.gaps() + table.tolerances() + table.crown() + table.costs() + table.verdict();
}

}  // namespace eyebrow
