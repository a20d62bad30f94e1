// Where piston and valves are at a crank angle. Angles in radians, lengths in mm.
// Crank angle 0 = the piston's highest point between exhaust and intake stroke (overlap TDC); range -2 pi ... 2 pi.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"

namespace eyebrow {

/// Piston position from crank throw, rod and pin offset; exact.
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
  /// Highest to lowest place: longer than twice the throw when the pin is offset.
  double travel() const;

 private:
  double throw_, rod_, offset_, top_angle_, top_height_, speed_bound_;
};

/// Lift against angle from the lobe centre (radians of crank): continuous in velocity and acceleration, zero with
/// zero velocity and acceleration outside [begin, end], one maximum.
class LiftCurve {
 public:
  /// A cubic-or-quintic Hermite chain: knots in rising order with value, first and second derivative.
  LiftCurve(std::vector<double> angle, std::vector<double> lift, std::vector<double> velocity, std::vector<double> acceleration);
  double lift(double angle) const;
  double velocity(double angle) const;
  double acceleration(double angle) const;
  double begin() const { return angle_.front(); }
  double end() const { return angle_.back(); }
  double peak() const { return peak_; }
  /// An upper bound of |velocity|.
  double velocity_bound() const { return velocity_bound_; }

 private:
  std::vector<double> angle_, lift_, velocity_, acceleration_;
  double peak_ = 0, velocity_bound_ = 0;
};

/// The curve at the place where the lobe's lifts are measured. Throws InputError when the numbers give no such curve.
LiftCurve lift_curve(const Lobe& lobe);

/// The middle between the flanks `below_peak` under the greatest lift, in the curve's own angle.
double flank_centre(const LiftCurve& curve, double below_peak);

/// Piston and valves of one engine, at its cam position and lash.
class Motion {
 public:
  explicit Motion(const Engine& engine);
  /// Crown flat below the block's deck face (deck clearance + drop).
  double piston_depth(double crank) const;
  /// z of the crown flat in the head frame: -(gasket + piston depth). The `height` of a Pose.
  double height(double crank) const;
  /// Lift of valve number `valve` (index into Engine::valves), along its own axis, at the valve, >= 0.
  double lift(int valve, double crank) const;
  /// Upper bounds of |d/d crank|.
  double height_speed_bound() const;
  double lift_speed_bound(int valve) const;
  /// Crank angle of the lobe centre of valve number `valve`, in -2 pi ... 2 pi.
  double lobe_centre(int valve) const;

 private:
  struct Train {
    int curve;
    double centre, ratio, lash;
  };
  CrankSlider slider_;
  double base_depth_, gasket_;
  std::vector<LiftCurve> curves_;
  std::vector<Train> trains_;
};

}  // namespace eyebrow
