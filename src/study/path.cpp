#include "study/path.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

constexpr int kSteps = 8;  // motion costs next to nothing beside geometry: bounds are taken over eighths

/// `within`: how far the place may be from the line between two neighbours of the steps.
template <class Place>
Route route(double from, double to, double within, const Place& place) {
  std::array<Vec3, kSteps + 1> places;
  for (int i = 0; i <= kSteps; ++i) places[i] = place(from + (to - from) * i / kSteps);
  const Vec3 chord = places[kSteps] - places[0];
  const double square = dot(chord, chord);
  Route found;
  for (const Vec3& at : places) {
    const Vec3 arm = at - places[0];
    const double along = square > 0 ? std::clamp(dot(arm, chord) / square, 0.0, 1.0) : 0.0;
    found.sag = std::max(found.sag, norm(arm - along * chord));
  }
  // A distance to a line is convex: between two steps it is no more than the greater of theirs.
  found.sag += within;
  found.chord = std::sqrt(square);
  return found;
}

}  // namespace

double lift_sag(const Motion& motion, int valve, double from, double to, double width) {
  return motion.lift_bend_bound(valve, from, to) * width * width / 8 +
         motion.lift_step_bound(valve, from, to) * width / 4;
}

PistonStretch piston_stretch(const Setup& setup, int valve, double from, double to) {
  const Motion& motion = setup.motion;
  const double cosine = setup.valves[valve].place.up.z, sine = std::sqrt(std::max(0.0, 1 - cosine * cosine));
  const double width = (to - from) / kSteps;
  const double height_sag = motion.height_bend_bound() * width * width / 8;
  const double lift_over = motion.lift_bend_bound(valve, from, to) * width * width / 8;
  const double lift_under = lift_sag(motion, valve, from, to, width);
  double low = INFINITY, high = -INFINITY, along_low = INFINITY, along_high = -INFINITY, approach = -INFINITY;
  double freedom = 0;
  for (int i = 0; i <= kSteps; ++i) {
    const double crank = from + (to - from) * i / kSteps, along = cosine * motion.height(crank);
    const LiftRange lifts = motion.lifts(valve, crank);
    low = std::min(low, motion.height(crank));
    high = std::max(high, motion.height(crank));
    along_low = std::min(along_low, lifts.least + along);
    along_high = std::max(along_high, lifts.greatest + along);
    approach = std::max(approach, motion.height(crank) + cosine * lifts.greatest);
    freedom = std::max(freedom, lifts.greatest - lifts.least);
  }
  along_high += lift_over + height_sag;
  along_low -= lift_under + height_sag;
  const double height = 0.5 * (low + high), half = 0.5 * (high - low) + height_sag;
  return {{height, along_high - cosine * height},
          sine * half,
          along_high - along_low,
          approach + lift_over + height_sag,
          freedom};
}

Route piston_route(const Setup& setup, int valve, double from, double to) {
  const double width = (to - from) / kSteps;
  return route(from, to,
               lift_sag(setup.motion, valve, from, to, width) + setup.motion.height_bend_bound() * width * width / 8,
               [&](double crank) { return setup.relative_place(valve, crank); });
}

Route pair_route(const Setup& setup, int first, int second, double from, double to) {
  const Motion& motion = setup.motion;
  const double width = (to - from) / kSteps;
  return route(from, to, lift_sag(motion, first, from, to, width) + lift_sag(motion, second, from, to, width),
               [&](double crank) {
                 return motion.lifts(second, crank).greatest * setup.valves[second].place.up -
                        motion.lifts(first, crank).greatest * setup.valves[first].place.up;
               });
}

Range lift_range(const Setup& setup, int valve, double from, double to) {
  const Motion& motion = setup.motion;
  const double width = (to - from) / kSteps;
  Range range{INFINITY, -INFINITY};
  for (int i = 0; i <= kSteps; ++i) {
    const double lift = motion.lift(valve, from + (to - from) * i / kSteps);
    range = {std::min(range.low, lift), std::max(range.high, lift)};
  }
  range.high += motion.lift_bend_bound(valve, from, to) * width * width / 8 + kPlaceRounding;
  range.low = std::max(0.0, range.low - lift_sag(motion, valve, from, to, width)) - kPlaceRounding;
  return range;
}

}  // namespace eyebrow::study
