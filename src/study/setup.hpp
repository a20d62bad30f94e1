// One engine made ready: motion, targets and one query object a valve. Shared by all tasks, never changed by them.
#pragma once
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/motion.hpp"

namespace eyebrow::study {

struct ValveSetup {
  ValvePlace place;  ///< head frame
  AskedValve asked;
  ValveToPiston to_piston;
  double peak_lift = 0, peak_crank = 0;  ///< on a grid of a quarter degree
};

struct Setup {
  const Engine& engine;
  const Parts& parts;
  Motion motion;
  std::shared_ptr<const Target> crown, bore;
  std::vector<ValveSetup> valves;
  /// Searches for a least call it at every step; it may throw to end them. A setup made of this one has it too.
  std::function<void()> poll = [] {};

  Setup(const Engine& of, const Parts& with);  ///< throws InputError
  /// Of an engine with the same solids: how it moves and where its valves stand may differ. `of` has to outlive it.
  Setup(const Setup& like, const Engine& of);
  /// Of any engine, with parts of its own: what `like` has made ready for a part that is the same is used again.
  Setup(const Setup& like, const Engine& of, const Parts& with);
  Pose pose(int valve, double crank) const { return {motion.height(crank), motion.lift(valve, crank)}; }
  /// Place of the valve in the piston frame, less a constant: how far the two have moved against each other.
  Vec3 relative_place(int valve, double crank) const;
  /// Rim-plane centre, block frame.
  Vec3 rim_centre(int valve, double lift) const;

 private:
  struct Made;
  Setup(const Engine& of, const Parts& with, Made made);
  void add_valves(const Setup* like);
};

/// Where the valve closes after its peak (way 1) or opens before it (-1), to 1e-9 degrees; the lift is above zero
/// there. May lie beyond 2 pi. The peak itself where there is no lift.
double lobe_end(const Setup& setup, int valve, int way);

/// A length as the engine's file counts: "0.125 mm", "0.0049 in".
std::string length_text(double length, LengthUnit unit);

}  // namespace eyebrow::study
