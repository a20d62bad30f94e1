#include "study/interference.hpp"

#include <fmt/format.h>

#include <cmath>

#include "study/asked.hpp"
#include "study/clock.hpp"

namespace eyebrow::study {
namespace {

/// The least gap that the overlap is told at: the travel's, or, should a jump keep that from overlap, the next one's.
/// The radial gap looks ahead: below zero, nothing touches yet. Null = no contact.
const Minimum* touching(const ValveResult& valve) {
  for (const GapKind kind : {GapKind::travel, GapKind::closest, GapKind::face})
    if (judged(valve, kind) < 0) return &valve.minimum.at(kind);
  return nullptr;
}

double missing(const ValveResult& valve, GapKind kind) {
  const double least = judged(valve, kind);
  return least < 0 ? -least : NAN;
}

const Face* own_floor(const Setup& setup, int valve, const Minimum& least) {
  if (least.gap.other_face < 0) return nullptr;
  const Face& of = setup.parts.crown.faces[static_cast<std::size_t>(least.gap.other_face)];
  const bool own = of.group == Group::floor && of.pocket == own_pocket(setup.engine, static_cast<std::size_t>(valve));
  return own ? &of : nullptr;
}

/// The least face gap may be over the crown flat while the valve stands in its floor as well: a floor moved down by d
/// along its normal n gives d / (n . axis) of travel.
double deepen(const Setup& setup, int valve, const ValveResult& result) {
  const Minimum &face = result.minimum.at(GapKind::face), &travel = result.minimum.at(GapKind::travel);
  if (own_floor(setup, valve, face) != nullptr) return missing(result, GapKind::face);
  const Face* floor = own_floor(setup, valve, travel);
  if (floor == nullptr || floor->kind != Surface::plane) return NAN;
  return missing(result, GapKind::travel) * dot(floor->frame.z, setup.valves[static_cast<std::size_t>(valve)].place.up);
}

Placing placing_at(const Setup& setup, double crank) {
  Placing placing;
  placing.height = setup.motion.height(crank);
  for (std::size_t i = 0; i < setup.valves.size(); ++i)
    placing.lifts.push_back(setup.motion.lift(static_cast<int>(i), crank));
  return placing;
}

}  // namespace

void find_interference(const Setup& setup, CheckResult& result) {
  for (std::size_t i = 0; i < result.valves.size(); ++i) {
    ValveResult& valve = result.valves[i];
    const Minimum* at = touching(valve);
    if (at == nullptr) continue;
    const int number = static_cast<int>(i);
    Interference found;
    found.withdraw = missing(valve, GapKind::travel);
    found.deepen = deepen(setup, number, valve);
    found.widen = missing(valve, GapKind::radial);

    found.crank = at->crank;
    const Overlap overlap = overlap_of(setup.engine, setup.parts, placing_at(setup, at->crank), number);
    found.volume = overlap.volume;
    found.volume_error = overlap.volume_error;
    // An overlap too small to be placed lies where the parts meet.
    found.place = std::isnan(overlap.centre.x) ? at->point_other : overlap.centre;
    const Spot spot = spot_of(found.place, setup.rim_centre(number, at->lift), setup.valves[i].place.up);
    found.clock = spot.clock;
    found.from_centre = spot.from_axis;
    valve.interference = found;
    if (!overlap.doubt.empty())
      result.warnings.push_back(
          {"", 0, 0, fmt::format("valve \"{}\" and piston: {}", valve.name, overlap.doubt), "valve." + valve.name});
  }
}

}  // namespace eyebrow::study
