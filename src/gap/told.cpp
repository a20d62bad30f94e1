#include "told.hpp"

namespace eyebrow::gap {

std::vector<int> all_faces(const Crown& crown) {
  std::vector<int> faces(crown.faces.size());
  for (std::size_t i = 0; i < faces.size(); ++i) faces[i] = static_cast<int>(i);
  return faces;
}

void set(Gap& result, const Target& target, const Found& found, const ValveFrame& frame, Vec3 on_valve, int part) {
  result.status = GapStatus::measured;
  result.value = found.value;
  result.on_other = frame.out(found.point);
  result.on_valve = frame.out(on_valve);
  result.valve_part = part;
  result.other_face =
      found.face >= 0 ? found.face : target.crown().triangles[static_cast<std::size_t>(found.triangle)].face;
}

int part_at(const ProfileDistance& distance, Vec3 q, bool sideways) {
  constexpr double kSame = 1e-6;
  const double r = radius_of(q);
  const bool sharp = distance.elements()[1].part == ValvePart::margin;
  if (sharp && distance.view(0, r, q.z).distance < kSame && distance.view(1, r, q.z).distance < kSame)
    return sideways ? 1 : 0;
  return distance.eval(r, q.z).element;
}

void set_closest(Gap& result, const Target& target, const Found& found, const ValveFrame& frame,
                 const ProfileDistance& distance) {
  const double r = radius_of(found.point);
  const SignedDistance d = distance.eval(r, found.point.z);
  const Vec3 foot = found.point - d.value * lift_gradient(found.point, r, d.dr, d.dw);
  set(result, target, found, frame, foot, part_at(distance, foot, true));
  const double doubt = kPoseBall + (found.face >= 0 ? kArcOff : target.crown().error);
  result.low = found.low - doubt;
  result.high = found.value + doubt;
  if (target.crown().by_mesh) result.value = result.low;
}

void widen_for_back(Gap& gap, const Profile& profile) {
  if (profile.back_error == 0 || !gap.measured() || gap.valve_part < 0) return;
  const ValvePart part = profile.elements[static_cast<std::size_t>(gap.valve_part)].part;
  if (part == ValvePart::underhead || part == ValvePart::stem) gap.high += profile.back_error;
}

}  // namespace eyebrow::gap
