// Where piston and valves are at a crank angle. Angles in radians, lengths in mm.
// Crank angle 0 = the piston's highest point between exhaust and intake stroke (overlap TDC); range -2 pi ... 2 pi.
#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "eyebrow/engine.hpp"

namespace eyebrow {

/// Piston position from crank throw, rod and pin offset; exact, no small-angle shortcuts.
/// The pin offset is positive toward the thrust side, which is opposite to the side the crankpin is on just after TDC.
/// A positive offset brings the piston to its highest place before the throw lines up with the bore axis, by
/// asin(offset / (throw + rod)). Crank angles count from that highest place, not from the line-up.
class CrankSlider {
 public:
  /// Throws InputError when the rod cannot pass (rod_length <= throw + |pin_offset|).
  CrankSlider(double stroke, double rod_length, double pin_offset);
  /// Piston's distance below its highest place, >= 0.
  double drop(double crank) const;
  /// d drop / d crank.
  double speed(double crank) const;
  /// An upper bound of |speed| over the cycle.
  double speed_bound() const { return speed_bound_; }
  /// An upper bound of |d2 drop / d crank2| over the cycle.
  double bend_bound() const { return bend_bound_; }
  /// Highest to lowest place: longer than twice the throw when the pin is offset.
  double travel() const;
  /// Piston pin above the crank's centre at the highest place: what block deck height and compression height build on.
  double reach() const { return top_height_; }
  /// Crank angle by which the throw has passed its line-up with the bore axis when the piston is highest; negative =
  /// it has yet to line up (positive offset).
  double top_angle() const { return top_angle_; }

 private:
  double throw_, rod_, offset_, top_angle_, top_height_, speed_bound_, bend_bound_;
};

/// A point that a lift curve passes through, and how.
struct LiftKnot {
  double angle = 0, lift = 0;
  double velocity = 0;      ///< d lift / d angle
  double acceleration = 0;  ///< d2 lift / d angle2
};

/// Lift against angle (radians of crank): quintic between the knots, continuous in velocity and acceleration between
/// begin() and end(), zero outside. Where the first and last knots have zero lift, velocity and acceleration it is so
/// continuous everywhere.
class LiftCurve {
 public:
  /// At least two knots in rising order of angle, rising to one maximum and falling. Throws Error on fewer, or
  /// unsorted.
  explicit LiftCurve(std::vector<LiftKnot> knots);
  /// Never negative.
  double lift(double angle) const;
  double velocity(double angle) const;
  double acceleration(double angle) const;
  double begin() const { return knots_.front().angle; }
  double end() const { return knots_.back().angle; }
  /// Greatest lift, and an angle where it is reached.
  double peak() const { return peak_; }
  double peak_angle() const { return peak_angle_; }
  /// An upper bound of |velocity|.
  double velocity_bound() const { return velocity_bound_; }
  /// An upper bound of |acceleration| between begin() and end(), both included.
  double acceleration_bound() const { return acceleration_bound_; }
  const std::vector<LiftKnot>& knots() const { return knots_; }

 private:
  /// Taylor coefficients about `begin`.
  struct Piece {
    double begin;
    double c[6];
  };
  /// The piece that holds the angle, null outside begin() ... end().
  const Piece* piece_at(double angle) const;

  std::vector<LiftKnot> knots_;
  std::vector<Piece> pieces_;
  double peak_ = 0, peak_angle_ = 0, velocity_bound_ = 0, acceleration_bound_ = 0;
};

/// The lobe's lift at the place where its lifts are measured. The angle counts from the lobe centre; from crank angle 0
/// for a table whose angles are crank angles (about_centre false), cam unmoved.
/// - Durations: through exactly the points given, rising and falling all the way; between them the middle of the lobes
///   that pass through them (`lift_band`), joined with the least mean square of jerk. Symmetric, with its nose at the
///   centre, unless some duration is `late`: then the nose stands where the middle between the flanks 0.050 in below it
///   is the centre. The lift at TDC is one more point, on both flanks of a symmetric lobe. Closed where `ramp` says;
///   else where a parabola through the lowest points ends. A checking lift of 0 states the end itself.
/// - Table: within its reading error of every reading (a smoothing spline: jerk against residuals; a long way from
///   wiggling with the noise), rising to one maximum and falling; through every reading when the error is 0. What the
///   base circle reads is taken off first: the median of its flat part, or once-a-turn run-out where the readings show
///   it; it must be below 0.1 mm. The lift leaves zero where a line through the lowest readings of the ramp does, and a
///   little before. Where the readings scatter by more than the error stated, up to 0.02 mm is taken instead, and
///   motion_doubts tells. Recentred, when about_centre, on the middle between the flanks 0.050 in below the peak.
/// - Cam law: as the law is, on top of its ramps when it has any: each starts softly in its first quarter and goes on
/// at
///   constant velocity, which dies out over the main lift (see lift_from_law.cpp). Velocity and acceleration are
///   continuous, but for the harmonic law, whose acceleration jumps where it begins and ends (that is the law).
/// Throws InputError, all faults at once, without a place, when the numbers give no such curve.
LiftCurve lift_curve(const Lobe& lobe);

/// Least and greatest lift at each angle of the lobes that have the same card.
struct LiftBand {
  LiftCurve least, greatest;
};

/// All that is known of a lobe's lift.
struct LobeCurves {
  LiftCurve middle;              ///< lift_curve
  std::optional<LiftBand> band;  ///< nothing: the curve is known (table, cam law), or no known lobe fits the card
};

/// A card does not fix a curve. Of several hundred lobes, made by the acceleration laws of the cam handbooks, by
/// polynomials, circles and pulses, with ramps, those are taken that pass through the card's points, or can be made to
/// (see motion/fitting_lobes.hpp). No lobe among them accelerates by more than 5 (nose) and 14 (flank) times lift /
/// (half duration above an eighth of the lift)^2; the sharpest handbook law has 4.3. On each flank the acceleration is
/// negative over the nose, then positive. Of 100 lobes of other families whose accelerations keep to that 99 lie
/// between least and greatest at every angle above their lowest checking lift.
LobeCurves lobe_curves(const Lobe& lobe);

/// The middle between the flanks `below_peak` under the greatest lift, in the curve's own angle.
/// Throws InputError unless 0 < below_peak < peak.
double flank_centre(const LiftCurve& curve, double below_peak);

/// What a valve's lift may be otherwise than its curve at the set cam position says. One entry a valve; crank radians,
/// mm.
struct Freedom {
  struct OfValve {
    double early = 0, late = 0;  ///< its lift may run anywhere from so much earlier to so much later
    double lift = 0;             ///< and up to so much higher, at any crank angle
    bool card = false;           ///< and anywhere in the band that its cam card leaves open
  };
  std::vector<OfValve> valves;
};

enum class CardEnd { least, greatest };

/// Every lift between two.
struct LiftRange {
  double least = 0, greatest = 0;
};

/// Piston and valves of one engine, at its cam position and lash. Immutable: any number of threads may ask at once.
class Motion {
 public:
  /// Throws InputError when rod, lobes or cams give no motion.
  explicit Motion(const Engine& engine);
  /// Motion(engine), for less: the curves of lobes that are still as they were are kept.
  Motion changed(const Engine& engine) const;
  /// Crown flat below the block's deck face (deck clearance + drop).
  double piston_depth(double crank) const;
  /// z of the crown flat in the head frame: -(gasket + piston depth). The `height` of a Pose.
  double height(double crank) const;
  /// Lift of valve number `valve` (index into Engine::valves), along its own axis, at the valve, >= 0.
  /// At running lash the velocity steps where the lash is taken up.
  double lift(int valve, double crank) const;
  /// The greatest that `lift` has anywhere.
  double greatest_lift(int valve) const;
  /// Upper bounds of |d/d crank|; of the lift's differences where the velocity steps.
  double height_speed_bound() const;
  double lift_speed_bound(int valve) const;
  /// Upper bounds of |d2 / d crank2|; of the lift between two crank angles, where its velocity does not step.
  double height_bend_bound() const;
  double lift_bend_bound(int valve, double from, double to) const;
  /// By how much the velocity of the lift may step, all in all, between two crank angles: always upward, as where lash
  /// is taken up. 0 = it does not. `from` to `to` is at most one cycle.
  double lift_step_bound(int valve, double from, double to) const;
  /// The same engine with more lifts than one at a crank angle. `lift` stays what it was; bounds of the lift (but not
  /// of its speed) hold for both ends of `lifts`: no step of velocity but upward, for the least one; for the greatest
  /// no step at all that would let it rise above a line between two angles.
  Motion with(const Freedom& freedom) const;
  /// Those that the freedom allows, all of them by some choice within it; without a freedom `lift` twice.
  LiftRange lifts(int valve, double crank) const;
  /// The same engine whose lobes from a card all have the least, or the greatest, lift that it leaves open.
  Motion at_card_end(CardEnd end) const;
  /// Has its card left a band?
  bool has_card_band(int valve) const;
  /// Crank angle of the lobe centre of valve number `valve`, in -2 pi ... 2 pi: at + (centre - advance) for an intake,
  /// - (centre + advance) for an exhaust; of a table with crank angles its own centre - advance.
  double lobe_centre(int valve) const;

 private:
  struct Train {
    int curve;            // index into the lobes' curves
    double centre;        // of the lobe, crank angle
    double curve_centre;  // the same, in the curve's own angle
    double ratio, lash;   // to the valve; lash 0 when the check runs without
    Freedom::OfValve free = {};
    std::shared_ptr<const LobeCurves> own = {};  // at the valve, where the rocker's ratio changes with lift; ratio is 1
  };
  struct Lobes {
    std::vector<Lobe> from;
    std::vector<LobeCurves> curves;
  };
  Motion(const Engine& engine, std::shared_ptr<const Lobes> lobes);
  /// `known`: of another engine, or null.
  static std::shared_ptr<const Lobes> lobes_of(const Engine& engine, const Lobes* known);
  const LiftCurve& curve_of(const Train& train) const { return curves_of(train).middle; }
  const LiftCurve& greatest_of(const Train& train) const;
  const LiftCurve& least_of(const Train& train) const;
  const LobeCurves& curves_of(const Train& train) const {
    return train.own ? *train.own : lobes_->curves[static_cast<std::size_t>(train.curve)];
  }
  /// Is an angle of the lobe's curve passed, in any cycle, by a lift that the freedom allows?
  bool passes(const Train& train, double angle, double from, double to) const;
  CrankSlider slider_;
  double deck_clearance_, gasket_;
  std::shared_ptr<const Lobes> lobes_;
  std::vector<Train> trains_;
};

/// What is doubtful, not refused, about how the valves move: open times that look like cam degrees read as crank
/// degrees or the reverse, lifts near overlap TDC that durations do not reach, and of lift tables: the base circle's
/// level and run-out, scatter, a centre that is not where it was stated, lift at the lobe taken for lift at the valve
/// or the reverse, lash in the readings, ramps cut off; of cards: the same mix-up of lobe and valve, and a lift at TDC
/// that no lobe with the card's durations has. Each names its key, none its place.
std::vector<Fault> motion_doubts(const Engine& engine, const Motion& motion);

}  // namespace eyebrow
