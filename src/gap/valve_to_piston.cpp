#include <algorithm>
#include <cmath>

#include "eyebrow/gap.hpp"

#include "clear_closest.hpp"
#include "entry.hpp"
#include "exact_gaps.hpp"
#include "outline.hpp"
#include "patch.hpp"
#include "queries.hpp"
#include "shade.hpp"
#include "told.hpp"

namespace eyebrow {
namespace {

using gap::ClearClosest;
using gap::ConvexValve;
using gap::ExactGaps;
using gap::Found;
using gap::kPoseBall;
using gap::Outline;
using gap::part_at;
using gap::ProfileDistance;
using gap::set;
using gap::set_closest;
using gap::ValveFrame;
using gap::ValveShape;

bool is_none(const Found& found) {
  return found.triangle < 0 && found.face < 0;
}

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
  /// The valve made larger by `grow`, as the exact faces see it, and by the mesh's error more, as the mesh does.
  struct Shape {
    Outline mesh;
    std::optional<Outline> exact;  ///< these two: not where the mesh is all that is known
    std::optional<ConvexValve> convex;

    Shape(Profile for_mesh, const Profile& for_faces, bool faces_known) : mesh(std::move(for_mesh)) {
      if (!faces_known) return;
      exact.emplace(for_faces);
      convex.emplace(for_faces);
    }
    static Shape grown(const Profile& outline, double by, double error, bool faces_known) {
      return {gap::offset_outline(outline, by + std::copysign(error, by)), gap::offset_outline(outline, by),
              faces_known};
    }
  };

  std::shared_ptr<const Target> crown;
  Vec3 up;
  int pocket;
  Outline plain;
  Shape as_it_is, grown, shrunk;      ///< by the pose ball larger and smaller
  std::vector<int> all, feet, sides;  ///< faces: every one; where a face gap may stand; the own pocket's sides
  std::optional<ClearClosest> clear;  ///< these two: where the crown's edges are known
  std::optional<ExactGaps> exact;
  std::optional<gap::Patches> patches;  ///< only where there are any
  double doubt = 0;  ///< the mesh's error where it is all that is known: gaps are told from their lower end

  Inner(std::shared_ptr<const Target> target, const Profile& outline, ValvePlace where, int own)
      : crown(std::move(target)),
        up(where.up),
        pocket(own),
        plain(outline),
        as_it_is(outline, outline, !crown->edges().empty()),
        grown(Shape::grown(outline, kPoseBall, crown->crown().error, !crown->edges().empty())),
        shrunk(Shape::grown(outline, -kPoseBall, crown->crown().error, !crown->edges().empty())) {
    all = gap::all_faces(crown->crown());
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
    if (crown->crown().by_mesh) doubt = crown->crown().error;
    if (crown->edges().empty()) return;
    clear.emplace(*crown, outline, up, all);
    exact.emplace(*crown, up, all, feet, sides);
    patches.emplace(*crown, outline, up);
    if (patches->empty()) patches.reset();
  }

  /// Where a flat face of the valve and one of the crown stand off each other everywhere the same, tells the middle.
  void to_middle(GapKind kind, Gap& gap, Vec3 centre, const ValveFrame& frame) const {
    if (!patches || gap.status != GapStatus::measured) return;
    const double way = frame.in(gap.on_other).z + gap.value - plain.profile.elements.front().from.w;
    if (std::fabs(way) > eyebrow::gap::kTouch) return;
    const std::optional<Vec3> middle = patches->middle(gap.other_face, centre);
    if (!middle) return;
    const Vec3 q = frame.in(*middle);
    // Over a place of the crown something may hang; a depth is less beside the rim.
    if (kind == GapKind::face && eyebrow::gap::shade(*crown, all, frame, q, {0, 0, 1}, gap.value)) return;
    if (kind == GapKind::closest &&
        std::fabs(plain.distance.eval(eyebrow::gap::radius_of(q), q.z).value - gap.value) > eyebrow::gap::kTouch)
      return;
    gap.on_other = *middle;
    gap.on_valve = *middle + gap.value * frame.frame.z;
    gap.valve_part = 0;
  }

  int margin_part() const { return static_cast<int>(eyebrow::gap::margin_of(plain.profile.elements)); }

  /// The exact way's answer, else the mesh's. The mesh's own error is in the shapes that it is asked with.
  template <class Exact, class Mesh>
  Found ask(const Shape& shape, const Exact& by_faces, const Mesh& by_mesh) const {
    const ValveShape on_mesh = shape.mesh.view();
    if (shape.convex)
      if (const std::optional<Found> found = by_faces(*exact, *shape.convex, shape.exact->view(), on_mesh))
        return *found;
    return by_mesh(on_mesh);
  }

  /// Runs one query plain, grown and shrunk, and makes a gap with its interval of the three.
  template <class Query, class OnValve>
  Gap measure(const ValveFrame& frame, bool ask_bounds, GapStatus none, bool sideways, const Query& query,
              const OnValve& on_valve) const {
    Gap result;
    const bool bounds = ask_bounds || doubt > 0;
    const auto error = [&](const Found& f) { return f.triangle >= 0 ? crown->crown().error : gap::kArcOff; };
    const Found found = query(as_it_is);
    const Found near = bounds ? query(grown) : found;
    if (is_none(found) && is_none(near)) {
      result.status = none;
      return result;
    }
    const auto tell = [&](const Found& f) {
      const Vec3 q = on_valve(f);
      set(result, *crown, f, frame, q, part_at(plain.distance, q, sideways));
    };
    if (!bounds) {
      tell(found);
      result.low = found.low - error(found);
      result.high = found.spent ? gap::kInfinity : found.value + error(found);
      return result;
    }
    const Found far = query(shrunk);
    const double low = std::min(near.low, found.low) - gap::kArcOff;
    // Infinite: no such gap a hair further off, or not known.
    const double high = found.spent || far.spent ? gap::kInfinity : std::max(far.value, found.value) + gap::kArcOff;
    const bool jump = !(high - low <= gap::kJump + gap::kByMesh * doubt);
    // The grown query may have met something else: that is what the lower value belongs to.
    tell(jump && !is_none(near) ? near : found);
    result.low = low;
    result.high = high;
    if (jump) result.status = GapStatus::jump;
    if (jump || doubt > 0) result.value = low;
    return result;
  }

  Found travel(const Shape& shape, Vec3 centre, const ValveFrame& frame) const {
    return ask(
        shape,
        [&](const ExactGaps& by, const ConvexValve& v, const ValveShape& s, const ValveShape& m) {
          return by.travel(centre, v, s, m);
        },
        [&](const ValveShape& s) { return gap::travel(*crown, all, frame, s); });
  }
  Found face(const Shape& shape, Vec3 centre, const ValveFrame& frame) const {
    return ask(
        shape,
        [&](const ExactGaps& by, const ConvexValve& v, const ValveShape& s, const ValveShape& m) {
          return by.face(centre, v, s, m);
        },
        [&](const ValveShape& s) { return gap::face_gap(*crown, feet, all, frame, s); });
  }
  Found radial(const Shape& shape, Vec3 centre, const ValveFrame& frame, double reach, double astray = 0) const {
    return ask(
        shape,
        [&](const ExactGaps& by, const ConvexValve&, const ValveShape& s, const ValveShape& m) {
          return by.radial(centre, s, m, reach, astray);
        },
        [&](const ValveShape& s) { return gap::radial(*crown, sides, frame, s, reach, astray); });
  }
  Found closest(Vec3 centre, const ValveFrame& frame) const {
    std::optional<Found> found = clear ? clear->find(centre, plain.view()) : std::nullopt;
    if (!found && as_it_is.convex) {
      found = exact->overlap(centre, *as_it_is.convex, plain.view());
      if (found && is_none(*found)) {
        found.reset();
        if (as_it_is.convex->dish) found = exact->clear_of_dish(centre, *as_it_is.convex, plain.view());
      }
    }
    return found && !is_none(*found) ? *found : gap::closest(*crown, all, frame, plain.view());
  }
  /// The exact face's normal where a face gap stands, in the valve's frame.
  Vec3 normal_at(const Found& f, const ValveFrame& frame) const {
    const Vec3 foot = frame.out(f.point);
    return frame.turn_in(f.face >= 0 ? exact->normal(f.face, foot) : crown->normal_at(f.triangle, foot).unit);
  }
};

ValveToPiston::ValveToPiston(std::shared_ptr<const Target> crown, Profile profile, ValvePlace place, int pocket)
    : inner_(std::make_shared<const Inner>(std::move(crown), profile, place, pocket)), place_(place) {}

ValveToPiston ValveToPiston::moved(Vec3 closed) const {
  ValveToPiston other = *this;
  other.place_.closed = closed;
  return other;
}

const Profile& ValveToPiston::profile() const {
  return inner_->plain.profile;
}
const Crown& ValveToPiston::crown() const {
  return inner_->crown->crown();
}
const ValvePlace& ValveToPiston::place() const {
  return place_;
}

Vec3 ValveToPiston::rim_centre(const Pose& pose) const {
  return place_.closed - pose.lift * place_.up - Vec3{0, 0, pose.height};
}

PoseGaps ValveToPiston::gaps(const Pose& pose, const GapRequest& request) const {
  const Inner& in = *inner_;
  const Vec3 centre = rim_centre(pose);
  const ValveFrame frame(centre, in.up);
  const Profile& profile = in.plain.profile;
  PoseGaps result;
  if (request.closest) {
    const Found found = in.closest(centre, frame);
    if (found.triangle >= 0 || found.face >= 0)
      set_closest(result.closest, *in.crown, found, frame, in.plain.distance);
    else
      result.closest.status = GapStatus::no_meeting;
  }
  if (request.travel)
    result.travel = in.measure(
        frame, request.bounds, GapStatus::no_meeting, false,
        [&](const Inner::Shape& shape) { return in.travel(shape, centre, frame); },
        [&](const Found& f) {
          return f.point + Vec3{0, 0, f.value};
        });
  if (request.face)
    result.face = in.measure(
        frame, request.bounds, GapStatus::no_meeting, false,
        [&](const Inner::Shape& shape) { return in.face(shape, centre, frame); },
        [&](const Found& f) { return f.point + f.value * in.normal_at(f, frame); });
  if (request.radial)
    result.radial = in.measure(
        frame, request.bounds, GapStatus::not_in_reach, true,
        [&](const Inner::Shape& shape) { return in.radial(shape, centre, frame, request.reach); },
        [&](const Found& f) {
          const double r = gap::radius_of(f.point);
          return r > 0 ? Vec3{f.point.x * (r - f.value) / r, f.point.y * (r - f.value) / r, f.point.z}
                       : Vec3{profile.rim_radius, 0, f.point.z};
        });
  in.to_middle(GapKind::closest, result.closest, centre, frame);
  in.to_middle(GapKind::travel, result.travel, centre, frame);
  in.to_middle(GapKind::face, result.face, centre, frame);
  // A rim that has yet to come down meets the wall with its margin, wherever on its path the point lies.
  if (result.radial.measured()) result.radial.valve_part = in.margin_part();
  for (Gap* gap : {&result.closest, &result.travel, &result.face}) gap::widen_for_back(*gap, profile);
  result.entry = gap::entry_depth(*in.crown, in.pocket, centre, in.up, profile.rim_radius);
  return result;
}

PoseGaps ValveToPiston::least_within(const Pose& pose, const GapRequest& request, double ball, double sideways,
                                     double up) const {
  const Inner& in = *inner_;
  const Vec3 centre = rim_centre(pose);
  const ValveFrame frame(centre, in.up);
  PoseGaps result;
  if (request.closest) {  // 1-Lipschitz
    result.closest = gaps(pose, {false, false, false, true, false, 0}).closest;
    result.closest.low += kPoseBall - ball - sideways - up;  // its own interval holds over a ball already
  }
  if (!request.travel && !request.face && !request.radial) return result;
  const auto widened = [&](double grow) {
    const Profile outline = gap::offset_outline(in.plain.profile, grow);
    return sideways + up == 0 ? outline : gap::widened_outline(outline, sideways, up);
  };
  const Inner::Shape grown(widened(ball + in.crown->crown().error), widened(ball), in.exact.has_value());
  const auto tell = [](Gap& gap, const Found& found, GapStatus none) {
    gap.status = found.triangle >= 0 || found.face >= 0 ? GapStatus::measured : none;
    if (gap.measured()) gap.low = found.low - eyebrow::gap::kArcOff;
  };
  if (request.travel) tell(result.travel, in.travel(grown, centre, frame), GapStatus::no_meeting);
  if (request.face) tell(result.face, in.face(grown, centre, frame), GapStatus::no_meeting);
  if (request.radial)
    tell(result.radial, in.radial(grown, centre, frame, request.reach, ball + sideways), GapStatus::not_in_reach);
  return result;
}

Profile swept_outline(const Profile& profile, double sideways, double up) {
  return gap::widened_outline(profile, sideways, up);
}

}  // namespace eyebrow
