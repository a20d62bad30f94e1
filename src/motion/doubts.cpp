// Readings that give a motion, and most likely not the engine's: cam degrees for crank degrees, a centre that is none,
// a lift near TDC that nothing was measured at. All bounds are common practice.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "eyebrow/motion.hpp"
#include "eyebrow/timing.hpp"
#include "motion/card_doubts.hpp"
#include "motion/table_doubts.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow {
namespace {

struct Range {
  double low, high;  // crank radians
  bool holds(double value) const { return value >= low && value <= high; }
};

/// A valve's lift where the open time is taken; an eighth of the lift where that is less (model engines).
constexpr double kOpenLift = 0.050 * kInch, kOpenShare = 1.0 / 8;
/// Open times above it run from 180 to 330 crank degrees: half of that, cam degrees, and twice that lie mostly outside.
constexpr Range kOpenTime{170 * kDegree, 370 * kDegree};
/// Lobe centres run from 95 to 125 crank degrees, to 140 with a phaser parked late; halved or doubled lie outside.
constexpr Range kCentre{80 * kDegree, 145 * kDegree};
/// About overlap TDC the least gaps are found.
constexpr double kNearTdc = 20 * kDegree, kStep = 1 * kDegree;

Fault doubt(const std::string& key, std::string message) {
  Fault fault = motion::fault(std::move(message));
  fault.key = key;
  return fault;
}

/// The key that states how long the lobe is up.
std::string length_key(const Lobe& lobe) {
  const std::string path = "lobe." + lobe.name;
  if (lobe.table) return path + ".table_degrees";
  return path + (lobe.law ? ".law_duration" : ".durations");
}

void doubt_open_time(const Lobe& lobe, const LiftCurve& curve, double ratio, std::vector<Fault>& doubts) {
  const double level = std::min(kOpenLift / ratio, kOpenShare * curve.peak());
  double from = curve.begin(), to = curve.end();
  while (from < curve.peak_angle() && curve.lift(from) < level) from += kStep / 10;
  while (to > curve.peak_angle() && curve.lift(to) < level) to -= kStep / 10;
  const double open = to - from;
  if (kOpenTime.holds(open)) return;
  doubts.push_back(
      doubt(length_key(lobe),
            fmt::format("lobe.{} holds its valve open for {:.0f} crank degrees above {} at the valve; usual "
                        "are 180 to 330 (common practice): {}",
                        lobe.name, open / kDegree, motion::length_text(level * ratio),
                        open < kOpenTime.low ? "check that its angles are crank degrees; a cam degree is two of them"
                                             : "check that its angles were not doubled from crank degrees")));
}

void doubt_centre(const Lobe& lobe, double unmoved, std::vector<Fault>& doubts) {
  const double centre = lobe.role == Role::intake ? unmoved : -unmoved;
  if (kCentre.holds(centre)) return;
  const bool placed = lobe.table && !lobe.table->about_centre;
  doubts.push_back(
      doubt(fmt::format("lobe.{}.{}", lobe.name, placed ? "table_angles" : "centre"),
            fmt::format("lobe.{} has its centre at {:.4g} crank degrees {} overlap TDC, cam unmoved; usual "
                        "are 95 to 125 (common practice): check that it is in crank degrees, and the TDC "
                        "that it counts from",
                        lobe.name, centre / kDegree, lobe.role == Role::intake ? "after" : "before")));
}

/// Greatest lift of the lobe within kNearTdc of overlap TDC, where it is measured.
double lift_near_tdc(const LiftCurve& curve, double curve_centre, double centre) {
  double greatest = 0;
  for (double crank = -kNearTdc; crank <= kNearTdc + kStep / 2; crank += kStep)
    greatest = std::max(greatest, curve.lift(std::remainder(crank - centre, 4 * kPi) + curve_centre));
  return greatest;
}

void doubt_fit(const Lobe& lobe, double near_tdc, std::vector<Fault>& doubts) {
  if (lobe.durations.empty() || !(near_tdc > lobe.durations.back().lift)) return;
  doubts.push_back(doubt(
      length_key(lobe),
      fmt::format("lobe.{}: within {:.0f} deg of TDC the lift goes to {}, above the highest checking lift, {}: the "
                  "curve there is a fit; a duration at a greater checking lift, or a table, would settle it",
                  lobe.name, kNearTdc / kDegree, motion::length_text(near_tdc),
                  motion::length_text(lobe.durations.back().lift))));
}

void doubt_no_overlap(const Engine& engine, const Motion& motion, std::vector<Fault>& doubts) {
  for (std::size_t i = 0; i < engine.valves.size(); ++i)
    if (motion.lift(static_cast<int>(i), 0) > 0) return;
  if (engine.lobes.empty() || engine.valves.empty()) return;
  doubts.push_back(
      doubt("lobe." + engine.lobes.front().name,
            fmt::format("no valve is open at overlap TDC{}; as a rule intake and exhaust both are, a little (common "
                        "practice): check the durations and centres of the lobes and the advance of the cam",
                        engine.running_lash ? ", at running lash" : "")));
}

}  // namespace

std::vector<Fault> motion_doubts(const Engine& engine, const Motion& motion) {
  std::vector<Fault> doubts;
  std::set<std::string> told;  // one lobe may move two valves
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    const Valve& valve = engine.valves[i];
    const Lobe& lobe = *lobe_of(engine, valve);
    if (!told.insert(lobe.name).second) continue;
    const LiftCurve curve = lift_curve(lobe);
    const double centre = motion.lobe_centre(static_cast<int>(i));
    const bool placed = lobe.table && !lobe.table->about_centre;
    const double curve_centre = placed ? flank_centre(curve, motion::kFlankBelowPeak) : 0;
    const auto cam =
        std::find_if(engine.cams.begin(), engine.cams.end(), [&](const Cam& each) { return each.name == lobe.cam; });
    doubt_open_time(lobe, curve, lobe.measured == LiftAt::lobe ? valve.rocker_ratio : 1, doubts);
    doubt_centre(lobe, std::remainder(centre + cam->advance - drive_retard(engine, *cam), 4 * kPi), doubts);
    doubt_fit(lobe, lift_near_tdc(curve, curve_centre, centre), doubts);
    motion::doubt_table(lobe, valve, doubts);
    motion::doubt_side(lobe, valve, curve.peak(), doubts);
    motion::doubt_tdc_lift(lobe, valve, doubts);
  }
  doubt_no_overlap(engine, motion, doubts);
  return doubts;
}

}  // namespace eyebrow
