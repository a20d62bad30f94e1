#include "study/place.hpp"

#include <fmt/format.h>

#include "study/clock.hpp"
#include "study/sweep.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {

std::string reason_of(const Gap& gap, GapKind kind, const std::string& face_valve, const std::string& face_other) {
  switch (gap.status) {
    case GapStatus::not_in_reach:
      return "not in reach";
    case GapStatus::no_meeting:
      return kind == GapKind::travel ? "the valve never meets the piston along its axis"
                                     : "no line square to the crown meets the valve";
    case GapStatus::not_asked:
      return "not asked";
    case GapStatus::jump:
      return fmt::format("jumps here: {} grazes {}", face_valve.empty() ? "valve" : face_valve,
                         face_other.empty() ? "an edge" : face_other);
    case GapStatus::measured:
      break;
  }
  if (gap.high - gap.low > kWideInterval) return fmt::format("steep here: {} slides along {}", face_valve, face_other);
  return {};
}

Minimum piston_minimum(const Setup& setup, int valve, GapKind kind, const Least& least) {
  const ValveSetup& of = setup.valves[valve];
  const Crown& crown = of.to_piston.crown();
  Minimum minimum;
  const Pose pose = setup.pose(valve, least.found ? least.crank : 0.0);
  const PoseGaps gaps = of.to_piston.gaps(pose, request_for(kind, of.asked.reach, least.found));
  minimum.gap = gaps[kind];
  minimum.crank = least.crank;
  minimum.span_from = least.span_from;
  minimum.span_to = least.span_to;
  minimum.lift = pose.lift;
  minimum.piston_depth = setup.motion.piston_depth(least.crank);
  minimum.entry = gaps.entry;
  const Gap& gap = minimum.gap;
  if (gap.measured()) {
    const Vec3 up{0, 0, setup.engine.gasket.thickness + pose.height};  // crown flat in the block frame
    minimum.point_valve = gap.on_valve + up;
    minimum.point_other = gap.on_other + up;
    if (gap.valve_part >= 0) minimum.face_valve = to_string(of.to_piston.profile().elements[gap.valve_part].part);
    if (gap.other_face >= 0) minimum.face_other = crown.faces[gap.other_face].name;
    const Spot spot = spot_of(minimum.point_valve, setup.rim_centre(valve, pose.lift), of.place.up);
    minimum.clock = spot.clock;
    minimum.from_centre = spot.from_axis;
  }
  minimum.reason = reason_of(gap, kind, minimum.face_valve, minimum.face_other);
  return minimum;
}

}  // namespace eyebrow::study
