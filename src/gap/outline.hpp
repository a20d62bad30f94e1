// A valve's outline: its directions; made larger or smaller; filled in.
#pragma once
#include <vector>

#include "eyebrow/profile.hpp"
#include "eyebrow/vec.hpp"

namespace eyebrow::gap {

/// Unit vector along the walk at an end of an element; the metal is on its left.
Point2 direction_at(const ProfileElement& element, Point2 end);

/// The outline moved outward by `grow` (inward where negative), corners mitred: outward it holds every displacement of
/// the valve by up to `grow` (corners of the outline turn by 90 degrees at most), inward it is held by every one.
/// Right to the order of grow^2 / radius, for |grow| far below the outline's least element.
Profile offset_outline(const Profile& profile, double grow);

/// An outline that holds every displacement of the valve by up to `sideways` square to its axis and up to `up` along
/// it, of any size; exact for a face that is flat. A dome, and the hollow of a dish, are lowered by sideways times the
/// face's slope at the rim.
Profile widened_outline(const Profile& profile, double sideways, double up);

/// The margin's place among the elements. Where the rim's rounding takes up the whole margin there is none: of that.
std::size_t margin_of(const std::vector<ProfileElement>& elements);

/// Where the rim is rounded; null where it is sharp.
const ProfileElement* rim_edge_of(const std::vector<ProfileElement>& elements);

/// Is the outline hollow somewhere below the margin: a dish, or a notch where a dome meets a rounded rim edge?
bool hollow_below(const Profile& profile);

/// The outline with a dish filled in flat, or that notch by the straight line that touches both arcs: convex from
/// below.
Profile filled_outline(Profile profile);

/// Places around the brink of a dish, in the valve's axes: what a level plane meets first; none where there is no dish.
std::vector<Vec3> brink_places(const Profile& profile);

}  // namespace eyebrow::gap
