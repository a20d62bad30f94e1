// How the valves move against the piston in an engine that has the same solids as a setup's but other numbers for what
// moves them: gasket, deck clearance, stroke, rod, pin offset, cams, lobes, lash, rocker ratios, a milled head, sunk
// seats.
#pragma once
#include <vector>

#include "eyebrow/field.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

class Course {
 public:
  explicit Course(const Setup& setup) : Course(setup, setup.engine) {}
  /// Throws InputError when the numbers give no motion, Error where a valve stands elsewhere but for milling and a sunk
  /// seat.
  Course(const Setup& setup, const Engine& changed);
  /// Of the setup's valve as it is placed in the setup: a head milled further is a piston that stands higher, a seat
  /// cut deeper is less lift.
  Pose pose(int valve, double crank) const {
    return {motion_.height(crank) + raised_,
            motion_.lift(valve, crank) - valves_[static_cast<std::size_t>(valve)].sunk};
  }
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
  std::vector<OfValve> valves_;
};

}  // namespace eyebrow::study
