// What a query found, told as a gap.
#pragma once
#include <optional>
#include <vector>

#include "outline.hpp"
#include "queries.hpp"

namespace eyebrow::gap {

std::vector<int> all_faces(const Crown& crown);

/// Value, points and faces; not yet the interval. `on_valve`: in the valve's frame.
void set(Gap& result, const Target& target, const Found& found, const ValveFrame& frame, Vec3 on_valve, int part);

/// The outline element that a point of the valve's surface belongs to. A sharp rim belongs to face and margin alike:
/// `sideways` decides for the margin, else for the face.
int part_at(const ProfileDistance& distance, Vec3 q, bool sideways);

/// A closest gap, whole.
void set_closest(Gap& result, const Target& target, const Found& found, const ValveFrame& frame,
                 const ProfileDistance& distance);

/// Where the back of the head is nearest and simplified: the exact one may be so much further away.
void widen_for_back(Gap& gap, const Profile& profile);

/// One outline with all that queries need of it.
struct Outline {
  Profile profile;
  ProfileDistance distance;
  std::optional<ProfileDistance> filled;  ///< only when hollow from below

  explicit Outline(Profile of) : profile(std::move(of)), distance(profile) {
    if (hollow_below(profile)) filled.emplace(filled_outline(profile));
  }
  ValveShape view() const { return {profile, distance, filled ? *filled : distance}; }
};

}  // namespace eyebrow::gap
