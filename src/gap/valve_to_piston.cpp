#include <algorithm>
#include <cmath>

#include "eyebrow/gap.hpp"

#include "clear_closest.hpp"
#include "entry.hpp"
#include "outline.hpp"
#include "queries.hpp"

namespace eyebrow {
namespace {

using gap::ClearClosest;
using gap::Found;
using gap::kPoseBall;
using gap::ProfileDistance;
using gap::ValveFrame;
using gap::ValveShape;

std::vector<int> all_faces(const Crown& crown) {
  std::vector<int> faces(crown.faces.size());
  for (std::size_t i = 0; i < faces.size(); ++i) faces[i] = static_cast<int>(i);
  return faces;
}

/// Gap from a plain value, before its interval.
void set(Gap& result, const Target& target, const Found& found, const ValveFrame& frame, Vec3 on_valve, int part) {
  result.status = GapStatus::measured;
  result.value = found.value;
  result.on_other = frame.out(found.point);
  result.on_valve = frame.out(on_valve);
  result.valve_part = part;
  result.other_face = found.face >= 0 ? found.face : target.crown().triangles[found.triangle].face;
}

/// The outline element that a point of the valve's surface belongs to. A sharp rim belongs to face and margin alike:
/// `sideways` decides for the margin, else for the face.
int part_at(const ProfileDistance& distance, Vec3 q, bool sideways) {
  constexpr double kSame = 1e-6;
  const double r = gap::radius_of(q);
  const bool sharp = distance.elements()[1].part == ValvePart::margin;
  if (sharp && distance.view(0, r, q.z).distance < kSame && distance.view(1, r, q.z).distance < kSame)
    return sideways ? 1 : 0;
  return distance.eval(r, q.z).element;
}

void set_closest(Gap& result, const Target& target, const Found& found, const ValveFrame& frame,
                 const ProfileDistance& distance) {
  const double r = gap::radius_of(found.point);
  const gap::SignedDistance d = distance.eval(r, found.point.z);
  const Vec3 foot = found.point - d.value * gap::lift_gradient(found.point, r, d.dr, d.dw);
  set(result, target, found, frame, foot, part_at(distance, foot, true));
  const double doubt = kPoseBall + (found.face >= 0 ? gap::kArcOff : target.crown().error);
  result.low = found.low - doubt;
  result.high = found.value + doubt;
}

/// One outline with all that queries need of it.
struct Shape {
  Profile profile;
  ProfileDistance distance;
  std::optional<ProfileDistance> filled;  ///< only when hollow from below

  explicit Shape(Profile outline) : profile(std::move(outline)), distance(profile) {
    if (gap::hollow_below(profile)) filled.emplace(gap::filled_outline(profile));
  }
  ValveShape view() const { return {profile, distance, filled ? *filled : distance}; }
};

}  // namespace

const Gap& PoseGaps::operator[](GapKind kind) const {
  switch (kind) {
    case GapKind::travel:
      return travel;
    case GapKind::face:
      return face;
    case GapKind::radial:
      return radial;
    case GapKind::closest:
      break;
  }
  return closest;
}

Gap& PoseGaps::operator[](GapKind kind) {
  return const_cast<Gap&>(static_cast<const PoseGaps&>(*this)[kind]);
}

struct ValveToPiston::Inner {
  std::shared_ptr<const Target> crown;
  ValvePlace place;
  int pocket;
  Shape plain, grown, shrunk;         ///< as it is; by the pose ball and the mesh's error larger and smaller
  std::vector<int> all, feet, sides;  ///< faces: every one; where a face gap may stand; the own pocket's sides
  std::optional<ClearClosest> clear;  ///< where the crown's edges are known

  Inner(std::shared_ptr<const Target> target, const Profile& outline, ValvePlace where, int own)
      : crown(std::move(target)),
        place(where),
        pocket(own),
        plain(outline),
        grown(gap::offset_outline(outline, kPoseBall + crown->crown().error)),
        shrunk(gap::offset_outline(outline, -kPoseBall - crown->crown().error)) {
    all = all_faces(crown->crown());
    // Of two faces met at once the own pocket's is told, then the lower number.
    std::stable_partition(all.begin(), all.end(),
                          [&](int i) { return own >= 0 && crown->crown().faces[i].pocket == own; });
    for (int i : all) {
      const Face& face = crown->crown().faces[i];
      switch (face.group) {
        case Group::flat:
        case Group::dish_floor:
        case Group::dome:
        case Group::floor:
          feet.push_back(i);
          break;
        case Group::wall:
        case Group::corner:
        case Group::mouth:
          if (face.pocket == pocket && pocket >= 0) sides.push_back(i);
          break;
        default:
          break;
      }
    }
    if (!crown->edges().empty()) clear.emplace(*crown, outline, place.up, all);
  }

  int margin_part() const {
    int i = 0;
    while (plain.profile.elements[i].part != ValvePart::margin) ++i;
    return i;
  }

  /// Runs one query plain, grown and shrunk, and makes a gap with its interval of the three.
  template <class Query, class OnValve>
  Gap measure(const ValveFrame& frame, bool bounds, GapStatus none, bool sideways, const Query& query,
              const OnValve& on_valve) const {
    Gap result;
    const Found found = query(plain.view());
    const Found near = bounds ? query(grown.view()) : found;
    if (found.triangle < 0 && near.triangle < 0) {
      result.status = none;
      return result;
    }
    const auto tell = [&](const Found& f) {
      const Vec3 q = on_valve(f);
      set(result, *crown, f, frame, q, part_at(plain.distance, q, sideways));
    };
    if (!bounds) {
      tell(found);
      result.low = found.low - crown->crown().error;
      result.high = found.spent ? gap::kInfinity : found.value + crown->crown().error;
      return result;
    }
    const Found far = query(shrunk.view());
    const double low = std::min(near.low, found.low);
    // Infinite: no such gap a hair further off, or not known.
    const double high = found.spent || far.spent ? gap::kInfinity : std::max(far.value, found.value);
    const bool jump = !(high - low <= gap::kJump);
    // The grown query may have met something else: that is what the lower value belongs to.
    tell(jump && near.triangle >= 0 ? near : found);
    result.low = low;
    result.high = high;
    if (jump) {
      result.status = GapStatus::jump;
      result.value = low;
    }
    return result;
  }
};

ValveToPiston::ValveToPiston(std::shared_ptr<const Target> crown, Profile profile, ValvePlace place, int pocket)
    : inner_(std::make_shared<const Inner>(std::move(crown), profile, place, pocket)) {}

const Profile& ValveToPiston::profile() const {
  return inner_->plain.profile;
}
const Crown& ValveToPiston::crown() const {
  return inner_->crown->crown();
}

Vec3 ValveToPiston::rim_centre(const Pose& pose) const {
  return inner_->place.closed - pose.lift * inner_->place.up - Vec3{0, 0, pose.height};
}

PoseGaps ValveToPiston::gaps(const Pose& pose, const GapRequest& request) const {
  const Inner& in = *inner_;
  const Vec3 centre = rim_centre(pose);
  const ValveFrame frame(centre, in.place.up);
  const Profile& profile = in.plain.profile;
  PoseGaps result;
  if (request.closest) {
    const ValveShape valve = in.plain.view();
    const std::optional<Found> exact = in.clear ? in.clear->find(centre, valve) : std::nullopt;
    const Found found = exact ? *exact : gap::closest(*in.crown, in.all, frame, valve);
    if (found.triangle >= 0 || found.face >= 0)
      set_closest(result.closest, *in.crown, found, frame, in.plain.distance);
    else
      result.closest.status = GapStatus::no_meeting;
  }
  if (request.travel)
    result.travel = in.measure(
        frame, request.bounds, GapStatus::no_meeting, false,
        [&](const ValveShape& valve) { return gap::travel(*in.crown, in.all, frame, valve); },
        [&](const Found& f) {
          return f.point + Vec3{0, 0, f.value};
        });
  if (request.face)
    result.face = in.measure(
        frame, request.bounds, GapStatus::no_meeting, false,
        [&](const ValveShape& valve) { return gap::face_gap(*in.crown, in.feet, in.all, frame, valve); },
        [&](const Found& f) {
          return f.point + f.value * frame.turn_in(in.crown->normal_at(f.triangle, frame.out(f.point)).unit);
        });
  if (request.radial)
    result.radial = in.measure(
        frame, request.bounds, GapStatus::not_in_reach, true,
        [&](const ValveShape& valve) { return gap::radial(*in.crown, in.sides, frame, valve, request.reach); },
        [&](const Found& f) {
          const double r = gap::radius_of(f.point);
          return r > 0 ? Vec3{f.point.x * (r - f.value) / r, f.point.y * (r - f.value) / r, f.point.z}
                       : Vec3{profile.rim_radius, 0, f.point.z};
        });
  // A rim that has yet to come down meets the wall with its margin, wherever on its path the point lies.
  if (result.radial.measured()) result.radial.valve_part = in.margin_part();
  result.entry = gap::entry_depth(*in.crown, in.pocket, centre, in.place.up, profile.rim_radius);
  return result;
}

PoseGaps ValveToPiston::least_within(const Pose& pose, const GapRequest& request, double ball, double sideways,
                                     double up) const {
  const Inner& in = *inner_;
  const Vec3 centre = rim_centre(pose);
  const ValveFrame frame(centre, in.place.up);
  PoseGaps result;
  if (request.closest) {  // 1-Lipschitz
    result.closest = gaps(pose, {false, false, false, true, false, 0}).closest;
    result.closest.low += kPoseBall - ball - sideways - up;  // its own interval holds over a ball already
  }
  if (!request.travel && !request.face && !request.radial) return result;
  const Profile outline = gap::offset_outline(in.plain.profile, ball + in.crown->crown().error);
  const Shape grown(sideways + up == 0 ? outline : gap::widened_outline(outline, sideways, up));
  const ValveShape valve = grown.view();
  const auto tell = [](Gap& gap, const Found& found, GapStatus none) {
    gap.status = found.triangle >= 0 ? GapStatus::measured : none;
    if (gap.measured()) gap.low = found.low;
  };
  if (request.travel) tell(result.travel, gap::travel(*in.crown, in.all, frame, valve), GapStatus::no_meeting);
  if (request.face) tell(result.face, gap::face_gap(*in.crown, in.feet, in.all, frame, valve), GapStatus::no_meeting);
  if (request.radial)
    tell(result.radial, gap::radial(*in.crown, in.sides, frame, valve, request.reach, ball + sideways),
         GapStatus::not_in_reach);
  return result;
}

Profile swept_outline(const Profile& profile, double sideways, double up) {
  return gap::widened_outline(profile, sideways, up);
}

Gap closest_gap(const Target& target, const Profile& profile, Vec3 centre, Vec3 up, bool bounds) {
  const ProfileDistance distance(profile);
  const ValveFrame frame(centre, up);
  const Found found = gap::closest(target, all_faces(target.crown()), frame, {profile, distance, distance});
  Gap result;
  if (found.triangle < 0) {
    result.status = GapStatus::no_meeting;
    return result;
  }
  set_closest(result, target, found, frame, distance);
  if (!bounds) {
    result.low = found.low - target.crown().error;
    result.high = found.value + target.crown().error;
  }
  return result;
}

}  // namespace eyebrow
