#include <cmath>

#include "eyebrow/gap.hpp"

#include "entry.hpp"
#include "queries.hpp"

namespace eyebrow {
namespace {

using gap::Found;
using gap::kPoseBall;
using gap::ProfileDistance;
using gap::ValveFrame;
using gap::ValveShape;

/// The outline with a dish filled in flat.
Profile filled(Profile profile) {
  for (ProfileElement& e : profile.elements)
    if (e.part == ValvePart::face && e.radius > 0 && !e.bulges) {
      e.radius = 0;
      e.from = {0, e.to.w};
    }
  return profile;
}

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
  result.other_face = target.crown().triangles[found.triangle].face;
}

void set_closest(Gap& result, const Target& target, const Found& found, const ValveFrame& frame,
                 const ProfileDistance& distance) {
  const double r = gap::radius_of(found.point);
  const gap::SignedDistance d = distance.eval(r, found.point.z);
  const Vec3 foot = found.point - d.value * gap::lift_gradient(found.point, r, d.dr, d.dw);
  set(result, target, found, frame, foot, d.element);
  const double doubt = target.crown().error + kPoseBall;
  result.low = found.low - doubt;
  result.high = found.value + doubt;
}

/// The outline element that a point on the valve's surface belongs to.
int part_at(const ProfileDistance& distance, Vec3 q) { return distance.eval(gap::radius_of(q), q.z).element; }

}  // namespace

const Gap& PoseGaps::operator[](GapKind kind) const {
  switch (kind) {
    case GapKind::travel: return travel;
    case GapKind::face: return face;
    case GapKind::radial: return radial;
    case GapKind::closest: break;
  }
  return closest;
}

Gap& PoseGaps::operator[](GapKind kind) { return const_cast<Gap&>(static_cast<const PoseGaps&>(*this)[kind]); }

struct ValveToPiston::Inner {
  std::shared_ptr<const Target> crown;
  Profile profile;
  ValvePlace place;
  int pocket;
  ProfileDistance distance;
  std::optional<ProfileDistance> filled_distance;
  std::vector<int> all, feet, sides;  // faces: every one; where a face gap may stand; the own pocket's sides

  Inner(std::shared_ptr<const Target> target, Profile outline, ValvePlace where, int own)
      : crown(std::move(target)), profile(std::move(outline)), place(where), pocket(own), distance(profile) {
    const ProfileElement& first = profile.elements.front();
    if (first.radius > 0 && !first.bulges) filled_distance.emplace(filled(profile));
    all = all_faces(crown->crown());
    for (int i : all) {
      const Face& face = crown->crown().faces[i];
      switch (face.group) {
        case Group::flat:
        case Group::dish_floor:
        case Group::dome:
        case Group::floor: feet.push_back(i); break;
        case Group::wall:
        case Group::corner:
        case Group::mouth:
          if (face.pocket == pocket && pocket >= 0) sides.push_back(i);
          break;
        default: break;
      }
    }
  }

  ValveShape shape() const { return {profile, distance, filled_distance ? *filled_distance : distance}; }

  /// Runs one query plain, grown and shrunk, and makes a gap with its interval of the three.
  template <class Query, class OnValve>
  Gap measure(const ValveFrame& frame, bool bounds, GapStatus none, const Query& query, const OnValve& on_valve) const {
    Gap result;
    Found plain = query(0.0);
    const double error = crown->crown().error;
    const double doubt = error + kPoseBall;
    Found near = bounds ? query(doubt) : plain;
    if (plain.triangle < 0 && near.triangle < 0) {
      result.status = none;
      return result;
    }
    if (!bounds) {
      const Vec3 q = on_valve(plain);
      set(result, *crown, plain, frame, q, part_at(distance, q));
      result.low = plain.low - error;
      result.high = plain.value + error;
      return result;
    }
    const Found far = query(-doubt);
    const double low = std::min(near.low, plain.low);
    const double high = std::max(far.value, plain.value);  // infinite: no such gap a hair further off
    const bool jump = !(high - low <= gap::kJump);
    // The grown query may have met something else: that is what the lower value belongs to.
    const Found& told = jump && near.triangle >= 0 ? near : plain;
    const Vec3 q = on_valve(told);
    set(result, *crown, told, frame, q, part_at(distance, q));
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
    : inner_(std::make_shared<const Inner>(std::move(crown), std::move(profile), place, pocket)) {}

const Profile& ValveToPiston::profile() const { return inner_->profile; }
const Crown& ValveToPiston::crown() const { return inner_->crown->crown(); }

Vec3 ValveToPiston::rim_centre(const Pose& pose) const {
  return inner_->place.closed - pose.lift * inner_->place.up - Vec3{0, 0, pose.height};
}

PoseGaps ValveToPiston::gaps(const Pose& pose, const GapRequest& request) const {
  const Inner& in = *inner_;
  const Vec3 centre = rim_centre(pose);
  const ValveFrame frame(centre, in.place.up);
  const ValveShape shape = in.shape();
  PoseGaps result;
  if (request.closest) {
    const Found found = gap::closest(*in.crown, in.all, frame, shape);
    if (found.triangle >= 0)
      set_closest(result.closest, *in.crown, found, frame, in.distance);
    else
      result.closest.status = GapStatus::no_meeting;
  }
  if (request.travel)
    result.travel = in.measure(
        frame, request.bounds, GapStatus::no_meeting,
        [&](double grow) { return gap::travel(*in.crown, in.all, frame, shape, grow); },
        [&](const Found& f) { return f.point + Vec3{0, 0, f.value}; });
  if (request.face)
    result.face = in.measure(
        frame, request.bounds, GapStatus::no_meeting,
        [&](double grow) { return gap::face_gap(*in.crown, in.feet, in.all, frame, shape, grow); },
        [&](const Found& f) { return f.point + f.value * frame.turn_in(in.crown->normal(f.triangle)); });
  if (request.radial)
    result.radial = in.measure(
        frame, request.bounds, GapStatus::not_in_reach,
        [&](double grow) { return gap::radial(*in.crown, in.sides, frame, shape, request.reach, grow); },
        [&](const Found& f) {
          const double r = gap::radius_of(f.point);
          return r > 0 ? Vec3{f.point.x * (r - f.value) / r, f.point.y * (r - f.value) / r, f.point.z}
                       : Vec3{in.profile.rim_radius, 0, f.point.z};
        });
  result.entry = gap::entry_depth(*in.crown, in.pocket, centre, in.place.up, in.profile.rim_radius);
  return result;
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
