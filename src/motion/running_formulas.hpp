// Closed forms behind the allowances. mm, radians, kg, N, N/mm2, K. All derived here; none needs a table.
#pragma once

namespace eyebrow::motion {

/// Pull on the rod at TDC from inertia alone, N: m r w^2 (1 + r/l), r half the stroke, l the rod's length. The
/// bracket is d2 drop / d crank2 over r at TDC. A pin offset e divides it by cos asin(e / (l + r)), which is left out:
/// below a thousandth for e under 4 % of l + r.
double inertia_pull(double mass, double stroke, double rod_length, double rpm);

/// Stretch of a bar under a pull at its end, F L / (A E).
double bar_stretch(double pull, double length, double section, double modulus);

/// Part of a rod's mass that counts at the pin where only the whole is known. A small end on the scale is a quarter to
/// a third (common practice); 0.4 lies on the safe side.
/// Why the weight of the small end on a scale, rod level, is the right share: with s from pin to big end, every bit dm
/// adds a dm to the pull on all of the beam below it, hence a dm (l - s) / (A E) to the stretch: as much as the mass
/// dm (1 - s/l) at the pin. That is the share of dm that rests on the scale. (a, the acceleration, is taken as the
/// piston's all along; toward the big end it is less.)
inline constexpr double kRodShare = 0.4;

/// The greatest lean of a round part, diameter bore - clearance, that stands free in a bore along `length`; it then
/// touches with two opposite corners: (bore - clearance) cos t + length sin t = bore. Close to clearance / length.
/// Its axis then crosses the bore's in the middle of the length. A part so short that it can turn over
/// (length^2 < clearance (2 bore - clearance)) leans by atan(length / diameter), where its diagonal lies across.
double lean_in_bore(double bore, double clearance, double length);

/// A stem that leans in its guide by t = lean_in_bore(stem + play, play, guide_length).
struct GuideEffect {
  /// The axis crosses the guide's in the middle of the guide, so the rim's centre, `overhang` below the guide's lower
  /// end, stands off by (guide_length / 2 + overhang) tan t: close to play (1/2 + overhang / guide_length).
  double sideways = 0;
  /// One side of the rim sinks by R sin t, close to R play / guide_length: as good as so much lift, there.
  double dip = 0;
};
GuideEffect guide_effect(double play, double guide_length, double overhang, double stem_diameter, double rim_radius);

/// Of forged crankshafts (steel 4340), 1/K; iron ones grow less, so this is the safe side. Published: Callister,
/// Fundamentals of Materials Science and Engineering, 3rd edition, table B.6.
inline constexpr double kCrankExpansion = 12.3e-6;

}  // namespace eyebrow::motion
