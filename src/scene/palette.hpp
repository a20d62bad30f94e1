// The scene's colours: few, our own; those beside each other differ in how light they are, for grey prints and for the
// colour-blind.
#pragma once
#include <array>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/gap.hpp"
#include "scene/lit_kind.hpp"

namespace eyebrow::scene {

struct Color {
  double red = 0, green = 0, blue = 0;  ///< 0 ... 1, sRGB
};

inline constexpr Color kPaper{1, 1, 1}, kInk{0.12, 0.13, 0.15}, kSoftInk{0.38, 0.40, 0.43}, kOldInk{0.55, 0.57, 0.60};
inline constexpr Color kCrownMetal{0.86, 0.86, 0.83}, kIntakeMetal{0.60, 0.71, 0.82}, kExhaustMetal{0.79, 0.66, 0.54};
inline constexpr Color kBoreMetal{0.87, 0.89, 0.91}, kGasketMetal{0.62, 0.64, 0.67};
inline constexpr Color kOverlapMetal{0.60, 0.05, 0.20};

/// How a kind of gap is lit: line and marker differ as well as the colour. Those of valve and
/// piston are the same as in the plots.
struct LitStyle {
  Color color;
  std::vector<double> dash;  ///< strokes and gaps; empty = drawn through
  int corners;               ///< of the marker: 0 = a circle
  double turn;               ///< radians, of its first corner from the right
};
const LitStyle& lit_style(LitKind kind);

/// Bands of distance, from below zero up: one colour more than bounds.
struct Bands {
  std::vector<double> bounds;  ///< mm, rising
  std::vector<Color> colors;   ///< from dark (near) to light (far)
};
/// Whole numbers of the unit.
const Bands& bands_in(LengthUnit unit);
/// Which band a distance is in.
std::size_t band_of(const Bands& bands, double distance);

}  // namespace eyebrow::scene
