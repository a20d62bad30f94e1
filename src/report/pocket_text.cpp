#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "crown_left_text.hpp"
#include "eyebrow/pocket_report.hpp"
#include "lines.hpp"
#include "pocket_words.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

constexpr int kPocketLabel = 26, kPocketNumber = 12;

class PocketTable {
 public:
  PocketTable(const PocketResult& result, const Format& format)
      : result_(result), unit_(format.units), lengths_(format) {}

  std::string head() const {
    std::string out = wrapped("", printable(result_.engine_name, kWidth), 0);
    for (const std::string& change : result_.changed) out += wrapped("With ", printable(change, kWidth), 2);
    return out +
           wrapped("",
                   fmt::format("{} Lengths in {}; pockets to the step that they are sized in ({} {}). x, y: where "
                               "the pocket's axis crosses the crown flat.",
                               result_.wish.existing ? "The pockets that are there, deeper and wider by the least."
                                                     : "The least pockets that leave every asked gap.",
                               lengths_.unit_in_full(), cut_text(result_.step, unit_), lengths_.unit()),
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
    for (const std::string& missing : one.misses) out += wrapped("  DOES NOT LEAVE ", printable(missing, 80), 4);
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
                         "Caution: the least that the numbers in the file allow, with nothing in hand: ask for more "
                         "than the least. An aid, no permission to cut: a deeper pocket is a thinner crown, and the "
                         "piston maker's limits rule. Confirm on the assembled engine, turned by hand.",
                         2);
  }

 private:
  const PocketResult& result_;
  LengthUnit unit_;
  Lengths lengths_;
};

}  // namespace

std::string pocket_text(const PocketResult& result, const Format& format) {
  const PocketTable table(result, format);
  std::string out = table.head();
  for (const SizedPocket& one : result.pockets) out += table.pocket(one);
  return out + table.gaps() + table.crown() + table.costs() + table.verdict();
}

}  // namespace eyebrow
