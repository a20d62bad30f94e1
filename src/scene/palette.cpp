#include "scene/palette.hpp"

#include <algorithm>

namespace eyebrow::scene {
namespace {

const std::vector<Color> kNearToFar = {{0.27, 0.00, 0.10}, {0.58, 0.10, 0.20}, {0.78, 0.29, 0.17}, {0.88, 0.50, 0.22},
                                       {0.94, 0.69, 0.38}, {0.96, 0.83, 0.60}, {0.95, 0.92, 0.80}, {0.95, 0.96, 0.96}};

Bands scaled(std::vector<double> bounds, double by) {
  for (double& each : bounds) each *= by;
  return {std::move(bounds), kNearToFar};
}

}  // namespace

const LitStyle& lit_style(LitKind kind) {
  static const LitStyle kStyles[] = {
      {{0.09, 0.16, 0.42}, {}, 0, 0},            // travel: navy, drawn through, circle
      {{0.78, 0.40, 0.02}, {9, 4}, 4, kPi / 4},  // face: ochre, long dashes, square
      {{0.02, 0.46, 0.43}, {3, 3}, 3, kPi / 2},  // radial: sea green, dots, triangle
      {{0.62, 0.10, 0.36}, {9, 3, 3, 3}, 4, 0},  // closest: wine red, dash and dot, diamond
      {{0.37, 0.30, 0.60}, {14, 3}, 6, 0},       // valve to valve: violet, longer dashes, hexagon
      {{0.30, 0.36, 0.20}, {5, 5}, 5, kPi / 2},  // valve to bore: olive, short dashes, pentagon
      {{0.25, 0.25, 0.27},
       {14, 3, 3, 3, 3, 3},
       3,
       -kPi / 2},  // piston to head: dark grey, dash and two dots, triangle on its tip
  };
  return kStyles[static_cast<std::size_t>(kind)];
}

const Bands& bands_in(LengthUnit unit) {
  static const Bands kMm = scaled({0, 0.5, 1, 1.5, 2, 3, 5}, 1);
  static const Bands kInches = scaled({0, 0.020, 0.040, 0.060, 0.080, 0.120, 0.200}, kInch);
  return unit == LengthUnit::inch ? kInches : kMm;
}

std::size_t band_of(const Bands& bands, double distance) {
  return static_cast<std::size_t>(std::upper_bound(bands.bounds.begin(), bands.bounds.end(), distance) -
                                  bands.bounds.begin());
}

}  // namespace eyebrow::scene
