// A valve's outline in the half plane (r, w): r from its axis, w along the stem from the rim plane.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"

namespace eyebrow {

struct Point2 {
  double r = 0, w = 0;
};

enum class ValvePart { face, rim_edge, margin, seat, underhead, stem };
const char* to_string(ValvePart part);

/// A straight piece, or an arc when `radius` > 0. Walked from the axis on the combustion side outward and up the
/// stem, the metal is on the left.
struct ProfileElement {
  ValvePart part = ValvePart::face;
  Point2 from, to;
  Point2 centre;       ///< of the arc
  double radius = 0;   ///< 0 = straight
  bool bulges = true;  ///< arc only: the metal is on the centre's side
};

struct Profile {
  std::vector<ProfileElement> elements;  ///< connected; first starts and last ends on the axis
  double rim_radius = 0;                 ///< R, the head's radius
  double margin = 0;                     ///< top of the margin above the rim plane
  double edge_radius = 0;
  double lowest = 0;  ///< least w (a dome reaches below the rim plane)
  double top = 0;     ///< greatest w: the end of the stem as modelled
  /// Of a valve from STEP, whose back may be simplified: underhead and stem hold the exact ones and lie no further
  /// outside them than this. All that faces the piston is exact.
  double back_error = 0;
};

/// The outline of a valve; the stem is carried `stem_length` above the rim plane.
Profile valve_profile(const Valve& valve, double stem_length);

/// The same with its stem carried to `stem_length` above the rim plane.
Profile with_stem(Profile profile, double stem_length);

}  // namespace eyebrow
