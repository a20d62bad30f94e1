// What if timing is lost: the cam drive breaks and the cams stop, or jumps some teeth, while the crank turns on; or a
// valve floats off its lobe. All of it cold, rigid and at the check's lash; contact is a gap below zero, nothing that
// is asked is counted. Lengths in mm, angles in radians of crank.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"

namespace eyebrow {

/// How far a cam may be out one way before parts touch.
struct OutOfTime {
  double by = 0;             ///< a whole number of tenths of a degree, rounded inward: proven clear from none to this
  bool all_round = false;    ///< clear however far it is out; `by` says nothing
  bool now = false;          ///< parts touch as the cam is set
  std::string gap;           ///< what is not clear a tenth further: gap_name, "intake.travel"; empty = all_round
  std::optional<int> teeth;  ///< whole teeth within `by`; nothing where the cam's teeth are not stated
};

/// One valve and the piston, at any cam position and any height of the piston.
struct UntimedValve {
  std::string name, cam;
  double greatest_lift = 0;  ///< of its own lobe, the highest that its cam card leaves open
  bool meets = false;        ///< false: along its axis it never comes to the piston, however far it opens
  /// The lift at which it comes to the piston where that is least: opened less than this from its seat it touches at no
  /// height. NaN where it never meets.
  double free_lift = NAN;
  double free_low = NAN;               ///< proven: from no height is it less
  double piston_depth = NAN;           ///< crown flat below the block's deck face there
  bool at_tdc = false;                 ///< that is the piston's highest place, or within 0.02 mm of it
  std::string face_valve, face_other;  ///< what comes together there
  bool clears = false;                 ///< at every lift up to the greatest
  double closest = NAN;                ///< where it clears: the least distance in any direction; NaN = not
  OutOfTime early, late;               ///< its cam, piston alone
  /// Loft: how much further than its lobe says it may be open before it touches the piston, at the crank angle where
  /// that is least, the cams in time (over all positions between stops, all lobes with the same card). Below zero it
  /// touches without. NaN where it never meets the piston.
  double loft = NAN;
  double loft_crank = 0;
};

/// Two valves, each at any lift of its own.
struct UntimedPair {
  std::string first, second;
  bool one_cam = false;  ///< they ride on one cam: out of time or not, their lifts go together, so only loft is told
  double least = NAN;    ///< at any two lifts; below zero: they can touch. NaN where one_cam
  double low = NAN;      ///< proven
  double lift = 0, lift2 = 0;  ///< there
  bool clears = true;
  /// The loft of both at once at which they touch, cams in time, rounded inward to kLoftStep; NaN: not up to the lesser
  /// of their greatest lifts.
  double loft = NAN;
};

struct UntimedCam {
  std::string name;  ///< empty: all cams together, as when the drive jumps at the crank's end
  int teeth = 0;     ///< of its wheel; 0 = not stated
  OutOfTime early, late;
};

inline constexpr double kLoftStep = 0.01;

struct UntimedResult {
  std::string engine;
  LengthUnit units = LengthUnit::mm;
  std::vector<UntimedValve> valves;
  std::vector<UntimedPair> pairs;
  std::vector<UntimedCam> cams;  ///< each that moves valves; behind them, of several, all together
  /// What timing has no part in: valves to the bore at all their lifts, piston to head.
  double bore = NAN, head = NAN;
  std::string bore_valve;            ///< whose
  bool clears = false;               ///< nothing can touch at any cam position
  std::vector<std::string> changed;  ///< as Conditions::changed
  bool running_lash = false;
  std::vector<Fault> warnings;
};

/// Throws as run_check. Of `options` only progress and stop count.
UntimedResult run_untimed(const Engine& engine, const Parts& parts, const CheckOptions& options = {});

}  // namespace eyebrow
