#include "study/place.hpp"

#include <fmt/format.h>

#include <cmath>

#include "study/clock.hpp"
#include "study/piston_gap.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {

namespace {

/// Words for a gap whose interval is wide, or that was not found; empty for an ordinary one.
std::string reason_of(const Gap& gap, GapKind kind, const std::string& face_valve, const std::string& face_other,
                      const Crown& other) {
  switch (gap.status) {
    case GapStatus::not_in_reach:
      return "not in reach";
    case GapStatus::no_meeting:
      if (kind == GapKind::travel) return "the valve never meets the piston along its axis";
      return kind == GapKind::face ? "no line square to the crown meets the valve" : "nothing to measure to";
    case GapStatus::not_asked:
      return "not asked";
    case GapStatus::jump:
      return fmt::format("jumps here: {} grazes {}", face_valve.empty() ? "valve" : face_valve,
                         face_other.empty() ? "an edge" : face_other);
    case GapStatus::measured:
      break;
  }
  if (other.by_mesh) return "as near as its faces, which were joined, tell";
  if (gap.high - gap.low > kWideInterval) return fmt::format("steep here: {} slides along {}", face_valve, face_other);
  return {};
}

}  // namespace

Minimum minimum_at(const Setup& setup, const Least& least) {
  Minimum minimum;
  minimum.crank = least.crank;
  minimum.span_from = least.span_from;
  minimum.span_to = least.span_to;
  minimum.piston_depth = setup.motion.piston_depth(least.crank);
  return minimum;
}

void set_proven(Minimum& minimum, const Least& least) {
  if (!least.found) return;
  Gap& gap = minimum.gap;
  gap.low = std::fmin(gap.low, least.proven);  // NaN: none at the pose itself, but within half a micrometre of it
  if (!gap.measured() || gap.status == GapStatus::jump || least.value - gap.low > kWideInterval) {
    if (!gap.measured()) gap.high = INFINITY;
    gap.status = GapStatus::jump;
    gap.value = gap.low;
  }
  if (gap.status != GapStatus::jump) return;
  minimum.before = least.before;
  minimum.after = least.after;
}

void describe(Minimum& minimum, GapKind kind, const Sides& sides) {
  const Gap& gap = minimum.gap;
  if (gap.measured()) {
    minimum.point_valve = gap.on_valve + sides.shift;
    minimum.point_other = gap.on_other + sides.shift;
    if (gap.valve_part >= 0) minimum.face_valve = to_string(sides.valve.elements[gap.valve_part].part);
    if (gap.other_face >= 0) minimum.face_other = sides.other.faces[gap.other_face].name;
    const Spot spot = spot_of(minimum.point_valve, sides.rim_centre, sides.up);
    minimum.clock = spot.clock;
    minimum.from_centre = spot.from_axis;
  }
  minimum.reason = reason_of(gap, kind, minimum.face_valve, minimum.face_other, sides.other);
}

Minimum piston_minimum(const Setup& setup, int valve, GapKind kind, const Least& least) {
  const ValveSetup& of = setup.valves[valve];
  const Pose pose = setup.pose(valve, least.crank);
  const PoseGaps gaps = of.to_piston.gaps(pose, request_for(kind, of.asked.reach, least.found));
  Minimum minimum = minimum_at(setup, least);
  minimum.gap = gaps[kind];
  set_proven(minimum, least);
  minimum.lift = pose.lift;
  minimum.entry = gaps.entry;
  const Vec3 crown_flat{0, 0, setup.engine.gasket.thickness + pose.height};
  describe(minimum, kind,
           {crown_flat, of.to_piston.profile(), of.to_piston.crown(), setup.rim_centre(valve, pose.lift), of.place.up});
  return minimum;
}

}  // namespace eyebrow::study
