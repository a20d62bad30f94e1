// How the valves move against the piston in an engine that has the same solids as a setup's but other numbers for what
// moves them: gasket, deck clearance, stroke, rod, pin offset, cams, lobes, lash, rocker ratios, a milled head, sunk
// seats.
#pragma once
#include <vector>

#include "eyebrow/field.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// Do the valves of two engines stand alike, but for milling and sunk seats?
bool stand_alike(const Engine& one, const Engine& other);

class Course {
 public:
  /// One lift at each crank angle, or all that a gap is judged over: every position of the cams, every lobe with the
  /// same card.
  enum class Lifts { as_set, judged };
  explicit Course(const Setup& setup) : Course(setup, setup.engine) {}
  /// Throws InputError when the numbers give no motion, Error where a valve stands elsewhere but for milling and a sunk
  /// seat.
  Course(const Setup& setup, const Engine& changed, Lifts lifts = Lifts::as_set);
  /// Of the setup's valve as it is placed in the setup: a head milled further is a piston that stands higher, a seat
  /// cut deeper is less lift. At the greatest lift; `under`: so much below it, mm.
  Pose pose(int valve, double crank, double under = 0) const {
    return {motion_.height(crank) + raised_,
            motion_.lifts(valve, crank).greatest - valves_[static_cast<std::size_t>(valve)].sunk - under};
  }
  /// How far the lifts at a crank angle lie apart.
  double choice(int valve, double crank) const {
    const LiftRange lifts = motion_.lifts(valve, crank);
    return lifts.greatest - lifts.least;
  }
  bool many_lifts() const { return many_; }
  /// That holds the valve's places between two angles.
  SlideBox box(int valve, double from, double to) const;
  /// How far such a place may be from the straight line between those at two angles, along and aside at most.
  double sag(int valve, double from, double to) const;

 private:
  struct OfValve {
    ValvePlace place;
    double sunk;
  };
  Motion motion_;
  double raised_ = 0;
  bool many_ = false;
  std::vector<OfValve> valves_;
};

}  // namespace eyebrow::study
