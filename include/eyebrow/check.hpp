// The main job: sweep the cycle, find the tightest points, compare with what was asked.
#pragma once
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/compression.hpp"
#include "eyebrow/crown_left.hpp"
#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/gap.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/running.hpp"

namespace eyebrow {

/// A least gap over the cycle. Points in the block frame.
struct Minimum {
  /// At `crank`, but for `low`, which is proven for every crank angle: at none does the gap fall below it, the half
  /// micrometre of displacement included. So `low` and `high` hold the least over all crank angles. Where the gap is
  /// smooth they are apart by 0.3 um and twice the sum of half a micrometre and the mesh's error, times its slope: at
  /// most 2 um where the error is up to 0.3 um. (Valves that overlap each other or the bore: `low` to 2 % of the
  /// depth.)
  Gap gap;
  double crank = 0;  ///< radians
  /// Where the gap jumps (status jump): just before and just after `crank`; NaN = there is none on that side.
  double before = NAN, after = NAN;
  double span_from = 0, span_to = 0;  ///< crank angles around it within 2 um of the least
  double lift = 0;                    ///< of the valve (of the first valve, for a pair)
  double lift2 = 0;                   ///< of the second valve of a pair
  double piston_depth = 0;
  double entry = NAN;  ///< rim in the pocket's mouth here
  Vec3 point_valve, point_other;
  std::string face_valve, face_other;
  double open_least = NAN;  ///< where the valve is closed: the least while it is open; NaN = none, or it is open
  double open_crank = 0;    ///< of that, radians
  /// Of the valve's cam there, and of the second valve's of a pair, crank radians; none where the cam has no stops.
  std::optional<double> advance, advance2;
  double clock = NAN;  ///< hours, 0 <= clock < 12: 12 o'clock toward the bore axis, clockwise from above the piston
  double from_centre = NAN;  ///< distance of the point from the valve's axis
  std::string reason;        ///< why the interval is wide ("rim grazes wall"), or why there is none ("not in reach")
};

/// Sampled over the cycle; NaN where there is no such gap.
struct Series {
  std::vector<double> crank, lift, piston_depth, travel, face, radial, closest, entry;
  std::vector<double> drop_travel;  ///< travel to contact from the seat
  std::vector<double>
      greatest_lift;  ///< that the asked travel, face, radial and closest gaps allow; NaN = not computed
  const std::vector<double>& operator[](GapKind kind) const;
  std::vector<double>& operator[](GapKind kind) {
    return const_cast<std::vector<double>&>(static_cast<const Series&>(*this)[kind]);
  }
};

/// What it would take to end a contact of valve and piston, and how much metal runs into metal. `withdraw`, `deepen`
/// and `widen` are what each gap ALONE asks for contact to end: not together a pocket that fits, and none of the asked
/// gaps is in them. Lengths in mm.
struct Interference {
  double withdraw = NAN;  ///< the valve along its axis: minus the least travel that is judged
  /// Its pocket, square to the floor: minus the least face gap where that is over its floor; else, where the least
  /// travel is to its flat floor, that travel taken square to it. NaN = neither.
  double deepen = NAN;
  double widen = NAN;  ///< its pocket, in radius: minus the least radial gap; NaN = that is not below zero
  double crank = 0;    ///< radians; where the overlap is told: at the least travel
  double volume = 0, volume_error = 0;  ///< of the overlap there, mm3, as Overlap has them; by the lobe's middle curve
  Vec3 place;                           ///< centre of the overlap, block frame
  double clock = NAN, from_centre = NAN;  ///< of that place, as in Minimum
};

/// Between what two values a least gap may be.
struct GapRange {
  double least = NAN, greatest = NAN;
};

/// A least gap of the running engine.
struct RunningLeast {
  double value = NAN;  ///< NaN = none
  double crank = 0, lift = 0;
  std::map<std::string, double> taken;  ///< what each allowance alone takes, by its name, mm
};

/// Least travel with the cam's pulley or sprocket fitted one tooth out. Not judged.
struct ToothOut {
  double tooth = 0;                ///< crank radians
  double early = NAN, late = NAN;  ///< NaN = the valve never meets the piston
};

struct ValveResult {
  std::string name;
  Role role = Role::intake;
  /// All four; status tells when there is none. Where the valve's cam has stops, over every position between them.
  std::map<GapKind, Minimum> minimum;
  std::map<GapKind, Minimum> as_set;        ///< at the engine file's cam position; empty where the cam has no stops
  std::map<GapKind, double> as_set_judged;  ///< beside it, of any lobe with the same card the least
  std::map<GapKind, GapRange> card;         ///< what the lobe's card leaves open of `minimum`; empty where nothing
  std::optional<ToothOut> tooth_out;        ///< nothing where the cam's teeth are not stated
  /// Least travel at running lash where the check is at zero lash, and the other way round; not judged. NaN: the valve
  /// has no lash, or never meets the piston.
  double travel_at_other_lash = NAN;
  std::map<GapKind, RunningLeast> running;  ///< empty where the engine file states nothing of the running engine
  double deepest_entry = NAN, deepest_entry_crank = 0;
  /// Where valve and piston touch: some least travel, face or closest gap, as it is judged, is below zero.
  std::optional<Interference> interference;
  Minimum bore;                 ///< to the bore wall, its notches and the gasket
  double bore_running = NAN;    ///< as PairResult::running
  bool overhangs_bore = false;  ///< closed
  Series series;
};

struct PairResult {
  std::string first, second;
  Minimum minimum;
  double running = NAN;  ///< of the running engine; NaN where the engine file states nothing of that
};

enum class Verdict { holds, short_, contact };
const char* to_string(Verdict verdict);

/// One asked gap beside what was found.
struct AskedRow {
  std::string what;   ///< "travel", "face", "radial", "closest", "valve to valve", "valve to bore", "piston to head"
  std::string valve;  ///< or "intake / exhaust" for a pair; empty for the head
  double required = 0;
  double found = NAN;    ///< NaN: not in reach
  double margin = NAN;   ///< found - required
  double middle = NAN;   ///< where the lobe's card leaves the gap open, by its middle curve; `found` is then the least
  bool running = false;  ///< of the running engine
  bool holds = false;    ///< by itself, or, where nothing was found, by the gap that the note names
  std::string note;      ///< "not in reach: the closest gap holds this"
};

/// Which gap a number is of.
struct MapGap {
  std::string what;   ///< as AskedRow
  std::string valve;  ///< as AskedRow
  double required = 0;
  bool running = false;
};

/// "intake.travel", "intake.bore", "intake/exhaust", "piston.head"; ".running" behind it where it is of the running
/// engine.
std::string gap_name(const MapGap& gap);

/// How far a cam may move one way, before something ends to hold that does where it is set.
struct ReserveEnd {
  double by = 0;  ///< crank radians, a whole number of tenths of a degree: at this, and all that was looked at before
                  ///< it, everything holds that holds where the cam is set
  MapGap gap;     ///< that does not, a tenth further; `what` is empty: nothing within kReserveMost
  bool now = false;  ///< something does not hold where the cam is set already: that limits nothing here
};

/// No cam is looked at further than this from where it is set.
inline constexpr double kReserveMost = 30 * kDegree;

/// How far a cam may be moved, its stops with it, the others where they are.
struct Reserve {
  std::string cam;
  ReserveEnd early, late;                  ///< until something that is asked is short
  ReserveEnd early_contact, late_contact;  ///< until parts touch
};

/// A number of the engine file that may be changed, in the unit of the file.
struct RemedyInput {
  std::string key;            ///< as --set takes it
  std::string unit;           ///< "mm", "in", "deg"; empty: a plain number
  double now = 0;             ///< in that unit
  double step = 0;            ///< changed values are whole multiples of this; below 5 um, or 0.01 degrees
  double less = 0, more = 0;  ///< how far it is looked at, each way, in that unit; 0: not that way
};

/// What a change of one input does for one gap that is short.
struct Remedy {
  RemedyInput input;
  bool restores = false;
  double value = NAN;  ///< the nearest to `now` that restores the gap as a check judges it; a step nearer does not.
                       ///< What lies between two places that were looked at is taken to go one way
  double found = NAN;  ///< the gap there, mm; NaN: there is none, and another gap holds what is asked
  double least = NAN, most = NAN;  ///< where it does not restore it: looked at between these
  std::string trouble;             ///< why it ends there: what a check of the next value refuses; empty: nothing
  struct Other {
    MapGap gap;
    double change = NAN;              ///< mm; NaN: there is none before or after
    bool held = false, holds = true;  ///< before, after
  };
  std::vector<Other> others;  ///< every other gap, where it restores this one
  /// Does it make another one short?
  bool spoils() const;
};

/// Of one gap that does not hold.
struct GapRemedies {
  MapGap gap;
  double found = NAN;            ///< mm, today
  std::vector<Remedy> remedies;  ///< one an input
};

struct Conditions {
  bool cold = true, rigid = true;
  bool running_lash = false;
  double step = 0;                        ///< radians of crank
  std::map<std::string, double> advance;  ///< a cam, radians
  std::map<std::string, Stops> stops;     ///< of the cams that have them
  std::map<std::string, double> drive;    ///< crank radians that a cam's drive makes it late; only where it does
  double angle_milled = 0;                ///< what a turn of the head takes off at the bore's middle
  double gasket = 0, deck_clearance = 0;
  std::vector<std::string> changed;  ///< what differs from the engine file, "key=value" as typed
  std::string crown_from = {};       ///< name of the STEP file that the crown is from; empty = from numbers
  double crown_mended = 0;           ///< its faces were joined: known to so many mm; 0 = no need
  std::map<std::string, std::string> valves_from = {};  ///< the same of valves, by the valve's name
  std::string cylinder;  ///< the measured cylinder whose numbers were used; empty = the file's own
};

struct CheckResult {
  std::string engine;
  LengthUnit units = LengthUnit::mm;
  std::vector<ValveResult> valves;
  std::vector<PairResult> pairs;
  double piston_to_head = 0;               ///< gasket + deck clearance
  double piston_to_head_running = NAN;     ///< as PairResult::running
  std::string piston_to_head_checked;      ///< "deck and gasket only; dome to chamber not checked"
  std::vector<MetalLeft> crown_left;       ///< the metal between pockets and what lies beyond; empty = no pocket
  std::optional<Compression> compression;  ///< where the chamber's volume is stated
  std::vector<Reserve> reserves;           ///< one a cam that moves valves
  std::vector<GapRemedies> remedies;       ///< of every gap that is short; run_check leaves it empty (remedies.hpp)
  std::vector<Allowance> allowances;       ///< what running takes; empty where the engine file states nothing of it
  std::vector<AskedRow> asked;
  Verdict verdict = Verdict::holds;
  Conditions conditions;
  std::vector<Fault> advice;  ///< which reading would narrow what is open
  std::vector<Fault> warnings;
};

struct CheckOptions {
  double step = kDegree;                 ///< of the printed series
  bool drop_table = false;               ///< fill Series::drop_travel and greatest_lift
  std::function<void(double)> progress;  ///< called with 0 ... 1, from one thread at a time
  std::function<bool()> stop;            ///< true = give up; run_check then throws Interrupted
};

class Interrupted : public Error {
 public:
  using Error::Error;
};

CheckResult run_check(const Engine& engine, const Parts& parts, const CheckOptions& options = {});

/// The asked row that a reader has to know first: one that does not hold and has no number, failing that the one with
/// the least margin; of equals the first. Null where no row has a margin and all hold.
const AskedRow* tightest_row(const CheckResult& result);

/// The checks of an engine whose cylinders were measured one by one, in the file's order; Conditions::cylinder tells
/// whose each is. The engine is no better than its worst cylinder, so verdict and exit status are that one's.
struct CylindersResult {
  std::vector<CheckResult> each;
  std::size_t worst = 0;  ///< into `each`
};

/// The number of the worst: by verdict (contact, short, holds), then by its tightest row (without a number before any
/// margin), then the first. Throws Error where there are no results.
std::size_t worst_of(const std::vector<CheckResult>& results);

}  // namespace eyebrow
