// The four gaps over a mesh, each by itself. All points and values in the valve's frame.
#pragma once
#include <vector>

#include "profile_distance.hpp"
#include "search.hpp"

namespace eyebrow::gap {

/// What a query needs to know of the valve.
struct ValveShape {
  const Profile& profile;
  const ProfileDistance& distance;
  const ProfileDistance& filled;  ///< the same with what is hollow from below filled in; `distance` if nothing is
};

/// Least signed distance from the valve to the faces.
Found closest(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve);

/// The same over trees that are at hand, with what is known beforehand.
Found closest(const std::vector<const FaceTree*>& trees, const ValveFrame& frame, const ValveShape& valve,
              const Found& start);

/// Travel along -w until something is touched; negative: minus the least withdrawal that clears the valve.
Found travel(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve);

/// From a foot on the faces along its normal to the valve; negative where the foot is inside.
/// `all`: the faces that can hide the valve from a foot.
Found face_gap(const Target& target, const std::vector<int>& faces, const std::vector<int>& all,
               const ValveFrame& frame, const ValveShape& valve);

/// Square to the axis, between the rim anywhere on the next `reach` of its path and the faces that look toward the
/// axis. `astray`: how far the axis may be from where it stands, for a bound.
Found radial(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve,
             double reach, double astray = 0);

}  // namespace eyebrow::gap
