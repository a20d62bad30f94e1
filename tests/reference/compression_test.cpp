// Compression volumes, from the volumes of the solids as the modeller integrates them.
#include <gtest/gtest.h>

#include "eyebrow/parts.hpp"

namespace eyebrow {
namespace {

/// Volume in cm3 of the room over a piston's stroke: of a plain crown as wide as the bore and as high as the stroke.
double cylinder_cm3(double bore, double height) {
  Engine e;
  e.cylinder.bore = bore;
  e.cylinder.stroke = height;
  e.gasket = {1.0, bore};
  e.piston.crown_diameter = bore;
  e.piston.underside = height;
  return build_parts(e, {}, 0.05).crown.volume / 1000;
}

// Published worked example: bore 90.5 mm, stroke 82 mm, 1.5 mm of deck height, 46 cm3 of chamber: swept 527.47 cm3,
// deck 9.65 cm3. It prints a ratio of 9.48, which is (swept / the rest) alone; (swept + the rest) / the rest is 10.48.
TEST(Compression, PublishedExample) {
  const double swept = cylinder_cm3(90.5, 82), deck = cylinder_cm3(90.5, 1.5), chamber = 46;
  EXPECT_NEAR(swept, 527.47, 0.005);
  EXPECT_NEAR(deck, 9.65, 0.005);
  EXPECT_NEAR((swept + deck + chamber) / (deck + chamber), 10.48, 0.005);
  EXPECT_NEAR(swept / (deck + chamber), 9.48, 0.005);  // what was printed
}

// Published: 92 x 69 mm is 458.7 cm3.
TEST(Compression, PublishedDisplacement) {
  EXPECT_NEAR(cylinder_cm3(92, 69), 458.7, 0.05);
}

// Closed form: what a pocket takes from the crown it gives to the chamber.
TEST(Compression, PocketsLowerTheRatio) {
  Engine e;
  e.cylinder.bore = 90.5;
  e.cylinder.stroke = 82;
  e.gasket = {1.0, 91};
  e.piston.crown_diameter = 90.5;
  e.piston.underside = 20;
  const double plain = build_parts(e, {}, 0.05).crown.volume;
  Pocket pocket;
  pocket.name = "intake";
  pocket.y = 18;
  pocket.diameter = 38;
  pocket.depth = 3;
  e.piston.pockets = {pocket};
  EXPECT_NEAR(plain - build_parts(e, {}, 0.05).crown.volume, kPi * 19 * 19 * 3, 1e-3);
}

}  // namespace
}  // namespace eyebrow
