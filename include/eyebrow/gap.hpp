// Gaps between a valve and the metal around it, for one relative pose. Lengths in mm.
#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "eyebrow/crown.hpp"
#include "eyebrow/profile.hpp"

namespace eyebrow {

enum class GapKind { travel, face, radial, closest };
inline constexpr GapKind kGapKinds[] = {GapKind::travel, GapKind::face, GapKind::radial, GapKind::closest};
const char* to_string(GapKind kind);

enum class GapStatus {
  measured,
  jump,          ///< measured, but it jumps within half a micrometre of the pose; the lower value is reported
  not_in_reach,  ///< radial: the rim would not enter within its reach
  no_meeting,    ///< face or travel: no line meets the other part
  not_asked,
};

/// One signed gap. `value`, `low`, `high` are NaN unless status is measured or jump.
/// `low` and `high` hold the least and greatest exact value over all relative displacements within 0.5 um of the pose.
struct Gap {
  GapStatus status = GapStatus::not_asked;
  double value = NAN, low = NAN, high = NAN;
  Vec3 on_valve, on_other;  ///< the two points it is measured between, frame of the other part
  int valve_part = -1;      ///< index into Profile::elements
  int other_face = -1;      ///< index into Crown::faces
  bool measured() const { return status == GapStatus::measured || status == GapStatus::jump; }
};

/// What moves a valve against a piston: the crown flat's z in the head frame and the lift along the valve's axis.
struct Pose {
  double height = 0;
  double lift = 0;
};

/// A valve's fixed place: closed rim-plane centre and the unit vector along the stem, away from the chamber.
struct ValvePlace {
  Vec3 closed;
  Vec3 up;
};

struct PoseGaps {
  Gap travel, face, radial, closest;
  double entry = NAN;  ///< rim's lowest point inside the pocket's mouth; negative = still above; NaN = no pocket
  const Gap& operator[](GapKind kind) const;
  Gap& operator[](GapKind kind);
};

/// A surface made ready for queries: bounding hierarchy over its mesh. Shared, immutable.
class Target;
std::shared_ptr<const Target> make_target(Crown crown);
const Crown& crown_of(const Target& target);

struct GapRequest {
  bool travel = true, face = true, radial = true, closest = true;
  bool bounds = true;  ///< false: value only (low = value - error, high = value + error of the geometry)
  double reach = 0;    ///< for radial, mm along the valve's path
};

/// One valve against one crown.
class ValveToPiston {
 public:
  /// `pocket`: the valve's own pocket in the crown, -1 = none.
  ValveToPiston(std::shared_ptr<const Target> crown, Profile profile, ValvePlace place, int pocket);
  PoseGaps gaps(const Pose& pose, const GapRequest& request) const;
  /// What the asked kinds of gap cannot fall below at any relative displacement of up to `ball` mm from the pose, as
  /// `low`; value and points are not told. No gap of a kind anywhere in that ball: its status. `request.bounds` and the
  /// entry are not looked at.
  /// To the ball may be added, of any size, what the valve moves square to its axis (`sideways`) and along it away from
  /// the piston (`up`): a least along a floor or a wall is then not bounded by the way travelled past it.
  PoseGaps least_within(const Pose& pose, const GapRequest& request, double ball, double sideways = 0,
                        double up = 0) const;
  const Profile& profile() const;
  const Crown& crown() const;
  const ValvePlace& place() const;
  /// The same valve closed elsewhere, its axis as it is. Shares all that was made ready.
  ValveToPiston moved(Vec3 closed) const;
  /// Rim-plane centre in the piston frame.
  Vec3 rim_centre(const Pose& pose) const;

 private:
  struct Inner;
  std::shared_ptr<const Inner> inner_;
  ValvePlace place_;
};

/// One valve against any solid: the bore, another valve.
class ValveToSolid {
 public:
  ValveToSolid(std::shared_ptr<const Target> solid, Profile profile, Vec3 up);
  /// With the rim-plane centre at `centre`; all in the solid's frame.
  Gap closest(Vec3 centre, bool bounds) const;

 private:
  struct Inner;
  std::shared_ptr<const Inner> inner_;
};

/// The outline of all places that a valve takes when it moves by up to `sideways` square to its axis and by up to `up`
/// along its stem: nothing is nearer to the valve anywhere there than to this. Exact for a flat face.
Profile swept_outline(const Profile& profile, double sideways, double up);

/// The surface of a valve as a target, in the valve's own frame (z along the stem from the rim-plane centre).
Crown valve_surface(const Profile& profile, double deflection);

}  // namespace eyebrow
