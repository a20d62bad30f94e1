#include "study/piston_gap.hpp"

#include <algorithm>
#include <cmath>

#include "study/path.hpp"

namespace eyebrow::study {

double low_or_none(const Gap& gap) {
  return gap.measured() ? gap.low : INFINITY;
}

GapRequest request_for(GapKind kind, double reach, bool bounds) {
  return {
      kind == GapKind::travel, kind == GapKind::face, kind == GapKind::radial, kind == GapKind::closest, bounds, reach};
}

PistonGap::PistonGap(const Setup& setup, int valve, GapKind kind)
    : setup_(setup), of_(setup.valves[static_cast<std::size_t>(valve)]), valve_(valve), kind_(kind) {
  double crown_top = -INFINITY;
  for (const Vec3& point : setup.parts.crown.points) crown_top = std::max(crown_top, point.z);
  const Profile& profile = of_.to_piston.profile();
  const double up = of_.place.up.z;
  // No point of the valve is below its rim plane (or the lowest of its dome) by more than a rim as far out.
  lowest_ = of_.place.closed.z - profile.rim_radius * std::sqrt(std::max(0.0, 1 - up * up)) +
            std::min(0.0, profile.lowest) * up - crown_top - setup.parts.crown.error;
}

double PistonGap::value(double crank) const {
  ++queries_;
  return of_.to_piston.gaps(setup_.pose(valve_, crank), request_for(kind_, of_.asked.reach, false))[kind_].value;
}

double PistonGap::low(double crank) const {
  ++queries_;
  return low_or_none(of_.to_piston.least_within(setup_.pose(valve_, crank), request_for(kind_, of_.asked.reach, false),
                                                kPoseBall)[kind_]);
}

/// Parts that far apart along the bore are no nearer in any direction. The radial gap's lines go on outward in a plane
/// square to the valve's axis: what they meet below the highest of the crown is the further out the higher they start.
double PistonGap::from_heights(double approach) const {
  const double apart = lowest_ - approach - kPoseBall - kPlaceRounding;
  if (kind_ == GapKind::radial) {
    const double cosine = of_.place.up.z, sine = std::sqrt(std::max(0.0, 1 - cosine * cosine));
    const double above = apart - of_.asked.reach * cosine;
    return above > 0 ? above / sine : -INFINITY;  // upright: infinite, it enters nothing
  }
  return apart > 0 ? apart : -INFINITY;
}

double PistonGap::bound(const Stretch& stretch, double enough) const {
  const PistonStretch moved = piston_stretch(setup_, valve_, stretch.from, stretch.to);
  const double free = from_heights(moved.approach);
  if (free >= enough || free == INFINITY) return free;
  if (kind_ == GapKind::closest)
    return std::max(
        free, distance_bound(stretch.at_from, stretch.at_to, piston_route(setup_, valve_, stretch.from, stretch.to)));
  if (moved.sideways > kWidestQuery || moved.up > kWidestQuery) return free;
  ++queries_;
  const PoseGaps gaps = of_.to_piston.least_within(moved.middle, request_for(kind_, of_.asked.reach, false),
                                                   kPoseBall + kPlaceRounding, moved.sideways, moved.up);
  return std::max(free, low_or_none(gaps[kind_]));
}

CycleGap PistonGap::over(double from, double to) const {
  CycleGap gap{[this](double crank) { return value(crank); },
               [this](double crank) { return low(crank); },
               [this](const Stretch& stretch, double enough) { return bound(stretch, enough); },
               kind_ == GapKind::closest,
               kValueTolerance,
               from,
               to};
  gap.poll = setup_.poll;
  return gap;
}

}  // namespace eyebrow::study
