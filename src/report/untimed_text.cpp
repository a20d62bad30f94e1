// What a builder has to know of an engine whose timing may be lost.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/untimed_report.hpp"
#include "lines.hpp"
#include "verdict_text.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

class UntimedText {
 public:
  UntimedText(const UntimedResult& result, const Format& format)
      : result_(result),
        lengths_(format),
        number_(std::max(8, 5 + std::max(format.digits, 0))),
        label_(26 - 3 * (number_ - 8)) {}

  std::string text() const {
    return head() + valves() + touching() + cams() + pairs() + others() + explained() + kCaution + '\n';
  }

 private:
  static std::string trimmed_line(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line + '\n';
  }
  std::string right(const std::string& text, int width) const { return fmt::format("{:>{}}", text, width); }
  static std::string degrees(double radians) { return fmt::format("{:.1f}", radians / kDegree + 0.0); }

  std::string head() const {
    std::string out = printable(result_.engine, kWidth) + '\n';
    out +=
        wrapped("",
                fmt::format("If timing is lost: cams that stop or jump while the crank turns on, valves that float. "
                            "Parts cold, train rigid, {} lash; clear means not touching, asked gaps are not counted. "
                            "Lengths in {}, rounded to the safe side.",
                            result_.running_lash ? "running" : "zero", lengths_.unit_in_full()),
                0);
    for (const std::string& change : result_.changed) out += wrapped("With ", printable(change, kWidth), 2);
    if (result_.clears)
      return out + wrapped("\n", "FREE-RUNNING: no valve reaches the piston or another valve at any cam position.", 2);
    const bool piston = !std::ranges::all_of(result_.valves, &UntimedValve::clears);
    const bool valves = !std::ranges::all_of(result_.pairs, &UntimedPair::clears);
    std::string what = piston && valves ? "valves can reach the piston and each other"
                       : piston         ? "valves can reach the piston"
                       : valves         ? "valves can reach each other, though not the piston"
                                        : "parts touch with the cams in time already: see `eyebrow check`";
    return out + wrapped("\n", "INTERFERENCE ENGINE: " + what + " when timing is lost.", 2);
  }

  std::string out_text(const OutOfTime& end) const {
    if (end.now) return "0 (now)";
    return end.all_round ? "never" : degrees(end.by);
  }

  std::string valves() const {
    std::string out = "\n" + padded("Valve to piston", label_) + right("opens", number_) + right("free to", number_) +
                      right("spare", number_) + ' ' + right("early", 9) + right("late", 9) +
                      right("loft", number_ + 1) + right("at", 14) + '\n';
    for (const UntimedValve& valve : result_.valves) {
      const double spare = valve.meets ? valve.free_lift - valve.greatest_lift : NAN;
      std::string line =
          padded("  " + printable(valve.name), label_) + right(lengths_.required(valve.greatest_lift), number_);
      line += right(valve.meets ? lengths_.gap(valve.free_lift) : "any", number_);
      line += right(valve.meets ? lengths_.gap(spare) : "-", number_) + (valve.clears ? ' ' : 'x');
      line += right(out_text(valve.early), 9) + right(out_text(valve.late), 9);
      line += right(valve.meets ? lengths_.gap(valve.loft) : "never", number_ + 1);
      if (valve.meets) line += right(crank_text(valve.loft_crank), 14);
      out += trimmed_line(line);
    }
    return out;
  }

  /// What comes together, of each valve.
  std::string touching() const {
    std::string out;
    for (const UntimedValve& valve : result_.valves) {
      const std::string name = "  " + printable(valve.name) + ": ";
      if (!valve.meets) {
        out += wrapped(name, "never comes to the piston along its axis.", 6);
        continue;
      }
      const std::string where = valve.at_tdc ? "with the piston at TDC"
                                             : fmt::format("with the crown flat {} {} {} the deck",
                                                           lengths_.plain(std::fabs(valve.piston_depth)),
                                                           lengths_.unit(), valve.piston_depth < 0 ? "above" : "below");
      const std::string meets = printable(valve.face_valve) + " and " + printable(valve.face_other);
      if (valve.clears)
        out += wrapped(name,
                       fmt::format("clears the piston everywhere, by {} {} along its axis and {} in any direction; "
                                   "nearest {}: {}.",
                                   lengths_.gap(valve.free_lift - valve.greatest_lift), lengths_.unit(),
                                   lengths_.gap(valve.closest), where, meets),
                       6);
      else
        out += wrapped(
            name,
            fmt::format("touches: {} it may open {} of its {} {}; then {} meet.", where, lengths_.gap(valve.free_lift),
                        lengths_.required(valve.greatest_lift), lengths_.unit(), meets),
            6);
    }
    return out;
  }

  std::string end_text(const OutOfTime& end) const {
    if (end.now) return "touches as it is set (" + printable(end.gap, 60) + ")";
    if (end.all_round) return "clear all the way round";
    std::string text = degrees(end.by) + " deg";
    if (end.teeth)
      text +=
          *end.teeth == 0 ? ", not one tooth" : fmt::format(", {} {}", *end.teeth, *end.teeth == 1 ? "tooth" : "teeth");
    return text + ", then " + printable(end.gap, 60);
  }

  std::string cams() const {
    std::string out = wrapped(
        "\n",
        "How far a cam may be out before parts touch, crank degrees and whole teeth that are clear all the way:", 0);
    for (const UntimedCam& cam : result_.cams) {
      const std::string name = cam.name.empty()    ? "all cams alike"
                               : cam.name == "cam" ? "cam"
                                                   : "cam " + printable(cam.name, 30);
      const std::string what = cam.name.empty() ? " (a jump at the crank)" : "";
      out +=
          wrapped("  ", fmt::format("{}{}: early {}; late {}", name, what, end_text(cam.early), end_text(cam.late)), 6);
      if (!cam.name.empty() && cam.teeth == 0 && !(cam.early.all_round && cam.late.all_round))
        out += wrapped("    ",
                       fmt::format("its wheel's teeth are not stated ({}.teeth): only degrees are told",
                                   cam.name == "cam" ? cam.name : "cam." + printable(cam.name, 30)),
                       6);
    }
    return out;
  }

  std::string pairs() const {
    std::string out;
    for (const UntimedPair& pair : result_.pairs) {
      if (pair.one_cam && std::isnan(pair.loft)) continue;
      std::string text;
      if (!pair.one_cam)
        text = pair.clears ? fmt::format("clear at any two lifts, by {} {}", lengths_.gap(pair.least), lengths_.unit())
                           : fmt::format("TOUCH, as when the one is open by {} and the other by {} {}",
                                         lengths_.plain(pair.lift), lengths_.plain(pair.lift2), lengths_.unit());
      if (!std::isnan(pair.loft))
        text += fmt::format("{}in time, {} {} of loft of both together {} the gap", text.empty() ? "" : "; ",
                            lengths_.gap(pair.loft), lengths_.unit(), "closes");
      out += wrapped("  ", fmt::format("{} / {}: {}", printable(pair.first, 30), printable(pair.second, 30), text), 6);
    }
    return out.empty() ? out : "\nValve against valve:\n" + out;
  }

  std::string others() const {
    return wrapped("\n",
                   fmt::format("Timing has no part in: valve to bore, least {} {} ({}); piston to head {}.",
                               lengths_.gap(result_.bore), lengths_.unit(), printable(result_.bore_valve),
                               lengths_.gap(result_.head)),
                   2);
  }

  std::string explained() const {
    std::string out = wrapped(
        "\n",
        "opens = the greatest lift; free to = opened no further than this the valve touches the piston at no height; "
        "spare = what is left of that, x = below zero, they can touch. early, late = crank degrees that its cam may be "
        "out before it touches the piston. loft = how much further than the lobe a floating valve may be open, at the "
        "crank angle where least will do, before it touches.",
        0);
    out +=
        wrapped("",
                "Not known here: carbon on piston and valves, a bent valve, play and stretch at speed, how far a "
                "valve floats and when. A drive that breaks at speed lets valves stop anywhere. After timing was lost "
                "on an interference engine, look for bent valves before it is turned.",
                0);
    return out;
  }

  const UntimedResult& result_;
  Lengths lengths_;
  int number_, label_;  ///< columns of a number, and of the first one
};

}  // namespace

std::string untimed_text(const UntimedResult& result, const Format& format) {
  return UntimedText(result, format).text();
}

}  // namespace eyebrow
