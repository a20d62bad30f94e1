// Poses aimed at what is rare by chance: a valve nearest to a floor, wall, corner, mouth or ridge, at a contact within
// a micrometre, overlapping, or with its rim about to enter, to leave or to graze its pocket's wall.
#pragma once
#include <array>
#include <vector>

#include "exact_reference.hpp"
#include "random_parts.hpp"

namespace eyebrow::aimed {

using exact::Faces;
using exact::Site;
using random_parts::Dice;
using random_parts::Scene;

enum class Spot { floor, wall, corner, mouth, ridge, other };
inline constexpr const char* kPlaces[] = {"floor", "wall", "corner", "mouth", "ridge", "other"};
inline constexpr std::size_t kPlaceCount = std::size(kPlaces);

inline bool crown_top(const Face& face) {
  return face.pocket < 0 && face.group != Group::underside;
}

/// What a place of the crown is. A mouth is the edge between a pocket and the crown's top, or its edge break; a ridge
/// is an edge between two pockets.
inline Spot place_of(const Faces& faces, const Site& site) {
  if (site.edge >= 0) {
    const Face &a = faces.face(faces.edge(site.edge).faces[0]), &b = faces.face(faces.edge(site.edge).faces[1]);
    if (a.pocket >= 0 && b.pocket >= 0 && a.pocket != b.pocket) return Spot::ridge;
    if ((a.pocket >= 0) != (b.pocket >= 0)) return Spot::mouth;
  }
  const Face& face = faces.face(site.face);
  switch (face.group) {
    case Group::floor:
      return Spot::floor;
    case Group::wall:
      return Spot::wall;
    case Group::corner:
      return Spot::corner;
    case Group::mouth:
      return Spot::mouth;
    default:
      return Spot::other;
  }
}

/// The samples of one pocket by what they are; only edges count as ridges and mouths.
class Aims {
 public:
  Aims(const Faces& faces, int pocket) : faces_(faces) {
    for (std::size_t i = 0; i < faces.sites().size(); ++i) {
      const Site& s = faces.sites()[i];
      const int other = s.edge >= 0 ? faces.edge(s.edge).faces[1] : s.face;
      if (faces.face(s.face).pocket != pocket && faces.face(other).pocket != pocket) continue;
      const Spot place = place_of(faces, s);
      const bool wants_edge = place == Spot::mouth || place == Spot::ridge;
      if (place != Spot::other && wants_edge == (s.edge >= 0)) at_[static_cast<std::size_t>(place)].push_back(i);
    }
  }
  bool has(Spot place) const { return !at_[static_cast<std::size_t>(place)].empty(); }
  const Site& any(Dice& dice, Spot place) const {
    const auto& own = at_[static_cast<std::size_t>(place)];
    return faces_.sites()[own[static_cast<std::size_t>(dice.below(static_cast<int>(own.size())))]];
  }

  /// A direction in which a valve may come nearest: the face's normal, or between those of an edge's two faces.
  Vec3 toward_void(Dice& dice, const Site& s) const {
    const Vec3 n = faces_.outward(s.face, s.p);
    if (s.edge < 0) return n;
    const Vec3 m = faces_.outward(faces_.edge(s.edge).faces[1], s.p);
    return unit(n + dice.between(0, 1) * (m - n));
  }

 private:
  const Faces& faces_;
  std::array<std::vector<std::size_t>, kPlaceCount> at_;
};

/// The rim-plane centre that puts the valve's outermost point along -n at the distance `gap` from p. `dice` chooses
/// along a flat face or margin.
inline Vec3 centre_against(Dice& dice, const Profile& profile, Vec3 up, Vec3 p, Vec3 n, double gap) {
  const double nw = dot(n, up);
  const Vec3 aside = n - nw * up;
  const double nr = norm(aside);
  // Outermost along (-nr, -nw) of the half plane, over elements of the head only.
  Point2 best{0, 0};
  double most = -1e300;
  for (const ProfileElement& e : profile.elements) {
    if (e.part > ValvePart::margin) continue;
    for (double t = 0; t <= 1; t += 1.0 / 64) {
      Point2 q{e.from.r + t * (e.to.r - e.from.r), e.from.w + t * (e.to.w - e.from.w)};
      if (e.radius > 0) {
        const double from = std::atan2(e.from.w - e.centre.w, e.from.r - e.centre.r),
                     sweep = std::remainder(std::atan2(e.to.w - e.centre.w, e.to.r - e.centre.r) - from, 2 * kPi);
        q = {e.centre.r + e.radius * std::cos(from + t * sweep), e.centre.w + e.radius * std::sin(from + t * sweep)};
      }
      const double far = nr * q.r - nw * q.w;
      if (far > most + 1e-12) most = far, best = q;
    }
  }
  if (nr < 1e-6) best.r *= dice.between(-1, 1);  // over its flat face any point will do
  if (nr > 1 - 1e-9) best.w = dice.between(profile.edge_radius, profile.margin);
  const Vec3 outward = nr > 1e-9 ? (-1 / nr) * aside : frame_about({}, up).x;
  return p + gap * n - best.r * outward - best.w * up;
}

}  // namespace eyebrow::aimed
