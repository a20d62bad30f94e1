// Two or more engines side by side: their least gaps, how their valves' lifts differ, where each valve lands on the
// pockets. The first is what the others are compared with. Lengths in mm, angles in radians.
#pragma once
#include <array>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/differing.hpp"

namespace eyebrow {

/// One gap of every engine.
struct ComparedGap {
  std::string name;  ///< gap_name
  std::string what, valve;
  bool running = false;
  struct Of {
    bool there = false;  ///< false: this engine's check has no such row
    double required = NAN;
    double found = NAN;  ///< NaN = there is none; see AskedRow
    double margin = NAN;
    bool holds = false;
  };
  std::vector<Of> of;  ///< one an engine
  /// Found in this engine less found in the first; NaN where either has none.
  double difference(std::size_t engine) const { return of[engine].found - of.front().found; }
};

/// The gaps of all checks: in the order of the first, those that it lacks behind them.
std::vector<ComparedGap> gaps_beside(const std::vector<CheckResult>& checks);

/// Where a valve comes to a piston: with the piston at TDC, gasket and deck clearance of the valve's own engine, the
/// valve is pushed down its axis until its rim's centre lies in the plane of the crown flat. A pocket bored along the
/// valve's path has its centre there. As the piston goes down from TDC, a leaning valve walks across its pocket, by
/// tan(tilt) of the way; that is counted in the radial gap, not here.
struct Landing {
  std::size_t engine = 0;  ///< whose valve
  std::string valve;
  std::size_t piston = 0;  ///< the engine whose piston it is
  std::string pocket;      ///< the one that takes the valve; empty = none does
  /// From the pocket's axis to the valve's, in the plane of the crown flat.
  double x = NAN, y = NAN;
  double offset() const { return std::hypot(x, y); }
  double clock = NAN;  ///< hours: toward where the valve's axis lies off the pocket's; NaN = nowhere, or not defined
  double tilt_apart = NAN;   ///< angle between the two axes
  double radius_more = NAN;  ///< pocket's radius less the rim's
  /// From the rim to the pocket's wall at 12, 1, ... 11 o'clock, square to the pocket's axis; below zero the rim is in
  /// the wall. The wall is taken as whole: also where the crown's edge, another pocket or the slope of the floor
  /// leaves none. NaN: the valve stands on the bore axis and has no clock.
  std::array<double, 12> rim_to_wall{};
};

/// Closed form: a rim point p stands off the pocket's axis (through a, unit vector u) by |(p - a) - ((p - a) . u) u|.
Landing landing(const Engine& engine, const Valve& valve, const Engine& piston, int pocket);

/// Of every valve that has a pocket: on its own piston; and of the engines after the first, on the first's piston too,
/// where the pocket there is another. That pocket is the one of the first's valve with the same name; without one, the
/// one whose mouth holds the landing place.
std::vector<Landing> landings(const std::vector<const Engine*>& engines);

/// How far a valve's lift is off the first engine's valve of the same name, at the valve, cams as set.
struct LiftDifference {
  std::size_t engine = 0;
  std::string valve;
  double most = 0;      ///< the greatest difference at one crank angle, signed: above zero, this engine lifts more
  double crank = 0;     ///< there
  double near_tdc = 0;  ///< the same within 30 degrees of overlap TDC, where the piston is near
  double near_crank = 0;
};

/// Of all engines after the first; valves whose lifts are the same (1 um) are left out.
std::vector<LiftDifference> lift_differences(const std::vector<const Engine*>& engines);

struct Comparison {
  std::vector<std::string> files;  ///< as named
  std::vector<CheckResult> checks;
  std::vector<ComparedGap> gaps;
  std::vector<DifferingInput> inputs;
  std::vector<LiftDifference> lifts;
  std::vector<Landing> landings;
  /// contact before short before holds: the worst of the engines.
  Verdict verdict() const;
};

}  // namespace eyebrow
