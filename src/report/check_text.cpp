// The table that a builder reads.
#include <fmt/format.h>

#include <algorithm>

#include "asked.hpp"
#include "crown_left_text.hpp"
#include "eyebrow/report.hpp"
#include "lines.hpp"
#include "remedies_text.hpp"
#include "verdict_text.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

// An interval wider than this is told with its reason, mm. Half a micrometre of pose moves a smooth gap by about as
// much; ten times that is a jump or a loss of accuracy.
constexpr double kWideInterval = 0.005;
// Nearer to the valve's axis than this a clock position says nothing, mm.
constexpr double kOnAxis = 0.5;
constexpr int kMarkWidth = 9, kCrankWidth = 13, kDetailLabel = 10;

class Table {
 public:
  Table(const CheckResult& result, const Format& format)
      : result_(result),
        lengths_(format),
        number_(std::max(8, 5 + std::max(format.digits, 0))),
        running_(!result.allowances.empty()),
        label_(std::min(34, kWidth - (running_ ? 6 : 5) * number_ - kMarkWidth - kCrankWidth)) {}

  std::string head() const;
  std::string valve(const ValveResult& valve) const;
  std::string others() const;
  std::string reserves() const;

 private:
  std::string titles(const std::string& label, bool of_a_valve) const;
  std::string running_column(const std::string& text) const;
  std::string row(const std::string& label, const AskedRow* asked, double found, bool touches,
                  double running = NAN) const;
  std::string row(const std::string& label, const AskedRow* asked, const Minimum& minimum, double running = NAN) const;
  std::string valve_row(GapKind kind, const ValveResult& valve, const Minimum& minimum) const;
  std::string detail(const std::string& label, const AskedRow* asked, const Minimum& minimum, bool meets,
                     const std::string& remark) const;
  std::string remark(GapKind kind, const ValveResult& valve) const;
  std::string place(double clock, double from_centre) const;
  std::string interference(const ValveResult& valve) const;
  std::string interval(const Minimum& minimum) const;
  std::string entry(const ValveResult& valve) const;
  std::string labelled(const std::string& label, const std::string& text) const;
  std::string positions(const ValveResult& valve) const;
  std::string tooth_out(const ValveResult& valve) const;
  std::string other_lash(const ValveResult& valve) const;
  std::string card(const ValveResult& valve) const;
  std::string running(const ValveResult& valve) const;

  const CheckResult& result_;
  Lengths lengths_;
  int number_;    ///< columns of a number
  bool running_;  ///< a column for the running engine?
  int label_;     ///< columns of the first one
};

std::string without_trailing_spaces(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line + '\n';
}

std::string Table::head() const {
  std::string out = printable(result_.engine, kWidth) + '\n';
  if (const std::string& cylinder = result_.conditions.cylinder; !cylinder.empty())
    out += "Cylinder " + printable(cylinder, 64) + '\n';
  return out + headline(result_) +
         fmt::format(
             "Lengths in {}; a found gap is rounded down, an asked one up.\n"
             "Found below zero = overlap; of a radial gap: the rim meets the wall further on.\n"
             "Entry below zero = the rim is above its pocket's mouth.\n"
             "Crank angle from overlap TDC. O'clock from above the piston, 12 toward the bore axis.\n",
             lengths_.unit_in_full());
}

std::string Table::titles(const std::string& label, bool of_a_valve) const {
  return without_trailing_spaces(fmt::format("\n{}{:>{}}{}{:>{}}{:>{}}{:{}}{:>{}}{:>{}}{:>{}}", padded(label, label_),
                                             "found", number_, running_column("running"), "asked", number_, "margin",
                                             number_, "", kMarkWidth, "crank", kCrankWidth, of_a_valve ? "lift" : "",
                                             number_, of_a_valve ? "entry" : "", number_));
}

std::string Table::running_column(const std::string& text) const {
  return running_ ? fmt::format("{:>{}}", text, number_) : "";
}

std::string Table::row(const std::string& label, const AskedRow* asked, double found, bool touches,
                       double running) const {
  const std::string found_text = lengths_.gap(found);
  return fmt::format("{}{:>{}}{}{:>{}}{:>{}}  {:{}}", padded("  " + label, label_),
                     found_text.empty() ? "none" : found_text, number_, running_column(lengths_.gap(running)),
                     asked ? lengths_.required(asked->required) : "-", number_,
                     asked ? lengths_.gap(asked->margin) : "", number_, mark(asked, touches), kMarkWidth - 2);
}

std::string Table::row(const std::string& label, const AskedRow* asked, const Minimum& minimum, double running) const {
  if (!minimum.gap.measured()) return row(label, asked, NAN, false);
  const bool closed = minimum.lift == 0 && minimum.lift2 == 0;  // then any of many crank angles would do
  return row(label, asked, minimum.gap.value, minimum.gap.value < 0, running) +
         fmt::format("{:>{}}", closed ? "closed" : crank_text(minimum.crank), kCrankWidth);
}

std::string Table::valve_row(GapKind kind, const ValveResult& valve, const Minimum& minimum) const {
  const AskedRow* asked = find_asked(result_, to_string(kind), valve.name);
  if (!minimum.gap.measured()) return row(to_string(kind), asked, minimum);
  // The radial gap looks ahead along the path: below zero, the rim will run into the wall, but has not yet.
  const bool touches = kind != GapKind::radial && (asked ? asked->found : minimum.gap.value) < 0;
  const auto running = valve.running.find(kind);
  return row(to_string(kind), asked, asked ? asked->found : minimum.gap.value, touches,
             running == valve.running.end() ? NAN : running->second.value) +
         fmt::format("{:>{}}{:>{}}{:>{}}", crank_text(minimum.crank), kCrankWidth, lengths_.plain(minimum.lift),
                     number_, lengths_.plain(minimum.entry), number_);
}

std::string Table::place(double clock, double from_centre) const {
  if (std::isnan(from_centre)) return "";
  if (from_centre < kOnAxis) return ", on the valve's axis";
  return fmt::format("{}, {} {} from the valve's axis", std::isnan(clock) ? "" : ", " + clock_text(clock),
                     lengths_.place(from_centre), lengths_.unit());
}

/// A wide interval with its reason, and what lies on either side of a jump.
std::string Table::interval(const Minimum& minimum) const {
  const Gap& gap = minimum.gap;
  std::string text = std::isfinite(gap.high)
                         ? fmt::format("between {} and {}", lengths_.gap(gap.low), lengths_.required(gap.high))
                         : fmt::format("{} or more", lengths_.gap(gap.low));
  text += ": " + (minimum.reason.empty() ? "it jumps here" : minimum.reason);
  if (gap.status != GapStatus::jump) return text;
  const auto side = [&](double value) { return std::isnan(value) ? "no such gap" : lengths_.gap(value); };
  return text + fmt::format(", {} just before, {} just after", side(minimum.before), side(minimum.after));
}

/// What a reader should know beside a valve's least gap; empty = nothing.
std::string Table::remark(GapKind kind, const ValveResult& valve) const {
  const Minimum& minimum = valve.minimum.at(kind);
  std::string text;
  if (!std::isnan(minimum.open_least))
    text = fmt::format("; the valve is closed here, while it is open the least is {} {} at {}",
                       lengths_.gap(minimum.open_least), lengths_.unit(), crank_text(minimum.open_crank));
  const auto closest = valve.minimum.find(GapKind::closest);
  if (kind == GapKind::radial && minimum.gap.value < 0 && closest != valve.minimum.end() &&
      closest->second.gap.value > 0)
    text += "; it does not touch yet, but would further along the valve's path";
  return text;
}

std::string Table::detail(const std::string& label, const AskedRow* asked, const Minimum& minimum, bool meets,
                          const std::string& remark) const {
  const Gap& gap = minimum.gap;
  std::string text;
  if (gap.measured()) {
    text = printable(minimum.face_valve) + (meets ? " meets " : " to ") + printable(minimum.face_other) +
           place(minimum.clock, minimum.from_centre);
    if (gap.status == GapStatus::jump || !minimum.reason.empty() || gap.high - gap.low > kWideInterval)
      text += "; " + interval(minimum);
  } else {
    text = minimum.reason.empty() ? "none over the cycle" : minimum.reason;
  }
  text += remark;
  // A note on a gap that is not there gives the reason too.
  if (asked && !asked->note.empty()) text = gap.measured() ? text + "; " + asked->note : asked->note;
  return wrapped("    " + padded(label, kDetailLabel - 1), text, 4 + kDetailLabel);
}

std::string Table::entry(const ValveResult& valve) const {
  if (std::isnan(valve.deepest_entry)) return wrapped("    " + padded("entry", kDetailLabel - 1), "no pocket", 4);
  const std::string crank = crank_text(valve.deepest_entry_crank);
  const std::string text = valve.deepest_entry >= 0
                               ? fmt::format("its rim is deepest in its pocket at {}: {} {} below the mouth", crank,
                                             lengths_.plain(valve.deepest_entry), lengths_.unit())
                               : fmt::format("its rim stays above its pocket: {} {} above the mouth at {}",
                                             lengths_.plain(-valve.deepest_entry), lengths_.unit(), crank);
  return wrapped("    " + padded("entry", kDetailLabel - 1), text, 4 + kDetailLabel);
}

/// What would end the contact, and the overlap. Lengths rounded up: no less would do.
std::string Table::interference(const ValveResult& valve) const {
  const Interference& found = *valve.interference;
  std::string text;
  const auto ask = [&](double length, const char* before, const char* after) {
    if (std::isnan(length)) return;
    text +=
        fmt::format("{}{}{} {}{}", text.empty() ? "" : "; ", before, lengths_.required(length), lengths_.unit(), after);
  };
  ask(found.withdraw, "withdraw the valve by ", " along its axis");
  ask(found.deepen, "deepen its pocket by ", " square to the floor");
  ask(found.widen, "widen its pocket by ", " in radius");
  if (!text.empty()) text += ". ";
  text += fmt::format(
      "At {} {} {}, give or take {}{}. Not a cut to make: each number is what one gap alone "
      "asks to end contact, with no gap left; crown left under the pocket and the makers' limits "
      "come first",
      crank_text(found.crank),
      valve.card.empty() ? "they share" : "they share, by the middle of the lobes with this card,",
      lengths_.volume(found.volume), lengths_.volume_error(found.volume_error), place(found.clock, found.from_centre));
  return wrapped("    " + padded("contact", kDetailLabel - 1), text, 4 + kDetailLabel);
}

std::string Table::labelled(const std::string& label, const std::string& text) const {
  return wrapped("    " + padded(label, kDetailLabel - 1), text, 4 + kDetailLabel);
}

/// Where between its cam's stops each gap is least, and what the file's own position alone would have told.
std::string Table::positions(const ValveResult& valve) const {
  if (valve.as_set.empty()) return "";
  std::string worst, as_set;
  for (const GapKind kind : kGapKinds) {
    const Minimum& minimum = valve.minimum.at(kind);
    const double set = valve.as_set_judged.at(kind);
    if (minimum.gap.measured() && minimum.advance)
      worst += fmt::format("{}{} at {}", worst.empty() ? "" : ", ", to_string(kind), advance_text(*minimum.advance));
    as_set += fmt::format("{}{} {}", as_set.empty() ? "" : ", ", to_string(kind),
                          std::isnan(set) ? "none" : lengths_.gap(set));
  }
  return labelled("cam", "of all positions between its stops the least: " + worst + ". As the file sets it: " + as_set);
}

/// With the pulley a tooth out.
std::string Table::tooth_out(const ValveResult& valve) const {
  if (!valve.tooth_out) return "";
  const auto told = [&](double travel) {
    return std::isnan(travel)
               ? std::string("none")
               : fmt::format("{} {}{}", lengths_.gap(travel), lengths_.unit(), travel < 0 ? " (CONTACT)" : "");
  };
  return labelled("tooth",
                  fmt::format("with the cam's drive one tooth out, {} deg of crank, the least travel would be {} "
                              "early, {} late",
                              degrees_text(std::round(valve.tooth_out->tooth / kDegree * 10) / 10 * kDegree),
                              told(valve.tooth_out->early), told(valve.tooth_out->late)));
}

std::string Table::other_lash(const ValveResult& valve) const {
  const double travel = valve.travel_at_other_lash;
  if (std::isnan(travel)) return "";
  return labelled(
      "lash", fmt::format("at {} lash the least travel would be {} {}; not judged",
                          result_.conditions.running_lash ? "zero" : "running", lengths_.gap(travel), lengths_.unit()));
}

/// What the cam card leaves open of each gap.
std::string Table::card(const ValveResult& valve) const {
  if (valve.card.empty()) return "";
  std::string text;
  for (const auto& [kind, range] : valve.card)
    text += fmt::format("{}{} {} to {}", text.empty() ? "" : ", ", to_string(kind), lengths_.gap(range.least),
                        lengths_.gap(range.greatest));
  const bool some_touch = std::any_of(valve.card.begin(), valve.card.end(), [&](const auto& each) {
    return each.first != GapKind::radial && each.second.least < 0 && valve.minimum.at(each.first).gap.value >= 0;
  });
  return labelled("card", "lobes with this cam card give " + text + "; the least is judged" +
                              (some_touch ? ": some of them touch" : ""));
}

/// What each allowance alone takes from each gap; those that take nothing worth printing from this valve are left out.
std::string Table::running(const ValveResult& valve) const {
  if (valve.running.empty()) return "";
  const auto line = [&](const std::string& label, const auto& text_of) {
    std::string out = "    " + padded(label, 34);
    for (const GapKind kind : kGapKinds) out += fmt::format("{:>{}}", text_of(kind), number_ + 1);
    return without_trailing_spaces(out);
  };
  const auto of = [&](GapKind kind) {
    const auto found = valve.running.find(kind);
    return found == valve.running.end() || std::isnan(found->second.value) ? nullptr : &found->second;
  };
  std::string out = line("running takes", [](GapKind kind) { return std::string(to_string(kind)); });
  for (const Allowance& allowance : result_.allowances) {
    double most = 0;
    const auto taken = [&](GapKind kind) {
      const RunningLeast* found = of(kind);
      const auto at = found ? found->taken.find(allowance.name) : decltype(found->taken.end()){};
      return found && at != found->taken.end() ? at->second : NAN;
    };
    for (const GapKind kind : kGapKinds) most = std::fmax(most, taken(kind));
    if (!allowance.on || !(lengths_.plain(most) != lengths_.plain(0))) continue;
    out += line("  " + allowance.name, [&](GapKind kind) { return lengths_.plain(taken(kind)); });
  }
  out += line("  all together", [&](GapKind kind) {
    const RunningLeast* found = of(kind);
    const auto open = valve.card.find(kind);
    const double at_rest = open == valve.card.end() ? valve.minimum.at(kind).gap.value : open->second.least;
    return found ? lengths_.required(at_rest - found->value) : std::string();
  });
  const bool asked = std::any_of(result_.asked.begin(), result_.asked.end(),
                                 [&](const AskedRow& row) { return row.running && row.valve == valve.name; });
  if (!asked) return out;
  return out + line("asked of the running engine", [&](GapKind kind) {
           for (const AskedRow& row : result_.asked)
             if (row.running && row.valve == valve.name && row.what == to_string(kind))
               return lengths_.required(row.required);
           return std::string();
         });
}

std::string Table::valve(const ValveResult& valve) const {
  const std::string role = to_string(valve.role);
  const std::string name = printable(valve.name, label_ - 16);
  std::string out = titles("Valve " + (valve.name == role ? name : name + " (" + role + ")"), true);
  for (const GapKind kind : kGapKinds) {
    const auto minimum = valve.minimum.find(kind);
    if (minimum != valve.minimum.end()) out += without_trailing_spaces(valve_row(kind, valve, minimum->second));
  }
  for (const GapKind kind : kGapKinds) {
    const auto minimum = valve.minimum.find(kind);
    if (minimum != valve.minimum.end())
      out += detail(to_string(kind), find_asked(result_, to_string(kind), valve.name), minimum->second,
                    kind == GapKind::travel, remark(kind, valve));
  }
  out += entry(valve) + positions(valve) + tooth_out(valve) + other_lash(valve) + card(valve) + running(valve);
  return valve.interference ? out + interference(valve) : out;
}

std::string Table::others() const {
  std::string out = titles("Other gaps", false);
  for (const PairResult& pair : result_.pairs)
    out += without_trailing_spaces(
        row(pair_name(pair), find_asked(result_, "valve to valve", pair_name(pair)), pair.minimum, pair.running));
  for (const ValveResult& valve : result_.valves)
    out += without_trailing_spaces(
        row(valve.name + " to bore", find_asked(result_, "valve to bore", valve.name), valve.bore, valve.bore_running));
  const AskedRow* head = find_asked(result_, "piston to head", "");
  out += without_trailing_spaces(
      row("piston to head", head, result_.piston_to_head, result_.piston_to_head <= 0, result_.piston_to_head_running));

  for (const PairResult& pair : result_.pairs)
    if (const std::string& reason = pair.minimum.reason; !reason.empty())
      out += wrapped("    ", pair_name(pair) + ": " + reason, 6);
  for (const ValveResult& valve : result_.valves) {
    if (!valve.bore.reason.empty()) out += wrapped("    ", valve.name + " to bore: " + valve.bore.reason, 6);
    if (valve.overhangs_bore) out += wrapped("    ", valve.name + ": closed, it reaches over the bore's edge", 6);
  }
  if (!result_.piston_to_head_checked.empty())
    out += wrapped("    ", "piston to head: " + result_.piston_to_head_checked, 6);
  if (result_.compression) out += compression_text(*result_.compression);
  out += crown_left_text(result_.crown_left, lengths_);
  if (!result_.crown_left.empty() && !result_.conditions.crown_from.empty())
    out += wrapped("    ", "metal between pockets and to the crown's edge: NOT KNOWN of a crown from STEP", 6);
  return out;
}

/// How far each cam may move.
std::string Table::reserves() const {
  if (result_.reserves.empty()) return "";
  constexpr int kCam = 16, kUntil = 12, kBy = 5, kEnd = 34;
  const auto end = [&](const ReserveEnd& of) {
    const bool free = of.gap.what.empty();
    const std::string by = free ? ">" + degrees_text(kReserveMost) : fmt::format("{:.1f}", of.by / kDegree);
    return fmt::format("{:>{}}  ", by, kBy) + padded(free ? "" : gap_name(of.gap), kEnd - kBy - 2);
  };
  const auto line = [&](const std::string& cam, const char* until, const std::string& early, const std::string& late) {
    return without_trailing_spaces("  " + padded(cam, kCam) + padded(until, kUntil) + early + late);
  };
  std::string out = "\nReserve: how far a cam may move, deg of crank, rounded inward, and what a tenth more would do\n";
  out += line("", "until", fmt::format("{:{}}", "earlier", kEnd), "later");
  bool already = false;
  for (const Reserve& reserve : result_.reserves) {
    const bool short_now = reserve.early.now || reserve.late.now,
               touching = reserve.early_contact.now || reserve.late_contact.now;
    out += line(reserve.cam, short_now ? "more short" : "short", end(reserve.early), end(reserve.late));
    out += line("", touching ? "more touch" : "contact", end(reserve.early_contact), end(reserve.late_contact));
    already |= short_now || touching;
  }
  if (already) out += "  (more: than the gaps that do not hold where the cams are set)\n";
  return out;
}

}  // namespace

std::string check_text(const CheckResult& result, const Format& format) {
  const Table table(result, format);
  std::string out = table.head();
  for (const ValveResult& valve : result.valves) out += table.valve(valve);
  return out + table.others() + table.reserves() + '\n' + verdict_text(result, format) +
         remedies_text(result.remedies, format, result.conditions.cylinder);
}

}  // namespace eyebrow
