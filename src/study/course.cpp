#include "study/course.hpp"

#include <algorithm>

#include "study/path.hpp"
#include "study/positions.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

bool alike(const Valve& a, const Valve& b) {
  return a.x == b.x && a.y == b.y && a.tilt == b.tilt && a.lean == b.lean && a.rim_height == b.rim_height;
}

}  // namespace

bool stand_alike(const Engine& one, const Engine& other) {
  return std::ranges::equal(one.valves, other.valves, alike) && one.head.angle_milled == other.head.angle_milled;
}

Course::Course(const Setup& setup, const Engine& changed, Lifts lifts)
    : motion_(setup.motion.changed(changed)), raised_(changed.head.milled - setup.engine.head.milled) {
  many_ = lifts == Lifts::judged;
  if (many_) motion_ = motion_.with(judged_lifts(changed));
  if (!stand_alike(changed, setup.engine)) throw Error("a course has to have its valves where the setup has them");
  valves_.reserve(changed.valves.size());
  for (std::size_t i = 0; i < changed.valves.size(); ++i)
    valves_.push_back({setup.valves[i].place, changed.valves[i].sunk - setup.engine.valves[i].sunk});
}

SlideBox Course::box(int valve, double from, double to) const {
  constexpr int kSteps = 4;  // bounds are taken over quarters
  const double width = (to - from) / kSteps;
  SlideBox box{INFINITY, -INFINITY, INFINITY, -INFINITY};
  const ValvePlace& place = valves_[static_cast<std::size_t>(valve)].place;
  for (int i = 0; i <= kSteps; ++i) {
    const double crank = from + i * width;
    const Slide at = slide_of(place, pose(valve, crank));
    box.along_low = std::min(box.along_low, at.along - choice(valve, crank));
    box.along_high = std::max(box.along_high, at.along);
    box.aside_low = std::min(box.aside_low, at.aside);
    box.aside_high = std::max(box.aside_high, at.aside);
  }
  const double height_sag = motion_.height_bend_bound() * width * width / 8 + kPlaceRounding;
  const double over = motion_.lift_bend_bound(valve, from, to) * width * width / 8 + height_sag;
  const double sine = slide_of(place, {1, 0}).aside;
  box.aside_low -= sine * height_sag;
  box.aside_high += sine * height_sag;
  box.along_low -= height_sag + lift_sag(motion_, valve, from, to, width) + kPlaceRounding;
  box.along_high += over;
  return box;
}

double Course::sag(int valve, double from, double to) const {
  const double width = to - from;
  return motion_.height_bend_bound() * width * width / 8 + lift_sag(motion_, valve, from, to, width) + kPlaceRounding;
}

}  // namespace eyebrow::study
