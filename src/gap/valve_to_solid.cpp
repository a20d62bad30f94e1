#include "clear_closest.hpp"
#include "eyebrow/gap.hpp"
#include "told.hpp"

namespace eyebrow {

struct ValveToSolid::Inner {
  std::shared_ptr<const Target> solid;
  gap::Outline outline;
  Vec3 up;
  std::vector<int> all;
  std::optional<gap::ClearClosest> clear;  ///< where the solid's edges are known

  Inner(std::shared_ptr<const Target> target, Profile profile, Vec3 along)
      : solid(std::move(target)), outline(std::move(profile)), up(along), all(gap::all_faces(solid->crown())) {
    if (!solid->edges().empty()) clear.emplace(*solid, outline.profile, up, all);
  }
};

ValveToSolid::ValveToSolid(std::shared_ptr<const Target> solid, Profile profile, Vec3 up)
    : inner_(std::make_shared<const Inner>(std::move(solid), std::move(profile), up)) {}

Gap ValveToSolid::closest(Vec3 centre, bool bounds) const {
  const Inner& in = *inner_;
  const gap::ValveFrame frame(centre, in.up);
  const gap::ValveShape valve = in.outline.view();
  const std::optional<gap::Found> exact = in.clear ? in.clear->find(centre, valve) : std::nullopt;
  const gap::Found found = exact ? *exact : gap::closest(*in.solid, in.all, frame, valve);
  Gap result;
  if (found.triangle < 0 && found.face < 0) {
    result.status = GapStatus::no_meeting;
    return result;
  }
  gap::set_closest(result, *in.solid, found, frame, in.outline.distance);
  gap::widen_for_back(result, in.outline.profile);
  if (!bounds) {
    result.low += gap::kPoseBall;
    result.high -= gap::kPoseBall;
  }
  return result;
}

}  // namespace eyebrow
