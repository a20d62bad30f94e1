// Compression ratio against a published worked example and closed form.
#include "eyebrow/compression.hpp"

#include <gtest/gtest.h>

#include "eyebrow/fault.hpp"
#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"

namespace eyebrow {
namespace {

constexpr double kCm3 = 1000;  // mm3

Engine ratio_example() {
  Engine e = test::plain();
  e.cylinder.bore = 90.5;
  e.cylinder.stroke = 82;
  e.cylinder.deck_clearance = 0.5;
  e.gasket = {1.0, 90.5};
  e.piston.crown_diameter = 90.5;
  e.head.chamber_volume = 46 * kCm3;
  return e;
}

Compression ratio_of(const Engine& engine) {
  const auto found = compression(engine, build_parts(engine, {}, 0.05).crown);
  return found ? *found : Compression{};
}

// The published worked example of reference/compression_test.cpp: bore 90.5 mm, stroke 82 mm, 1.5 mm from crown to
// head, 46 cm3 of chamber: swept 527.47 cm3, 9.65 cm3 over the crown, (swept + clearance) / clearance = 10.48.
TEST(CompressionRatio, PublishedExample) {
  const Compression found = ratio_of(ratio_example());
  EXPECT_NEAR(found.swept / kCm3, 527.47, 0.005);
  EXPECT_NEAR((found.gasket + found.deck) / kCm3, 9.65, 0.005);
  EXPECT_NEAR(found.crown, 0, 1e-3);
  EXPECT_NEAR(found.ratio(), 10.48, 0.005);
}

TEST(CompressionRatio, NotToldWithoutTheChamber) {
  Engine e = ratio_example();
  e.head.chamber_volume.reset();
  EXPECT_FALSE(compression(e, build_parts(e, {}, 0.05).crown));
}

// Closed form: cylinder of a pocket, disc of a dish, cap of a dome (pi h (3 a2 + h2) / 6), ring of a chamfer.
TEST(CompressionRatio, TheCrownsShape) {
  Engine e = ratio_example();
  e.piston.pockets = {test::pocket("a", 0, 22, 0, 0, 30, 3)};
  EXPECT_NEAR(ratio_of(e).crown, kPi * 15 * 15 * 3, 0.01);
  e.piston.dish = Dish{20, 2, 0, 0, -18};
  EXPECT_NEAR(ratio_of(e).crown, kPi * (15 * 15 * 3 + 10 * 10 * 2), 0.01);
  e.piston.dish.reset();
  e.piston.pockets.clear();
  e.piston.round_dome = RoundDome{4, 60};
  EXPECT_NEAR(ratio_of(e).crown, -kPi * 4 * (3 * 30 * 30 + 4 * 4) / 6, 0.01);
  e.piston.round_dome.reset();
  e.piston.top_chamfer = 2;
  EXPECT_NEAR(ratio_of(e).crown, 2 * kPi * (45.25 - 2.0 / 3) * 2, 0.01);  // Pappus: triangle 2 by 2, its centroid's way
}

// A proud crown takes its own area from the gasket's room; the land's ring is told and not counted.
TEST(CompressionRatio, ProudCrownAndTopLand) {
  Engine e = ratio_example();
  e.piston.crown_diameter = 90;
  e.piston.top_land_height = 7;
  e.cylinder.deck_clearance = -0.4;
  const Compression found = ratio_of(e);
  EXPECT_NEAR(found.deck, -0.4 * kPi * 45 * 45, 1e-6);
  EXPECT_NEAR(found.top_land, 7 * kPi * (45.25 * 45.25 - 45 * 45), 1e-6);
}

// A notch whose axis is on the bore's wall, as wide as the bore: its lens is 2 pi / 3 - sqrt(3) / 2 of radius squared.
TEST(CompressionRatio, Notch) {
  Engine e = ratio_example();
  e.cylinder.notches = {{"a", 45.25, 0, 90.5, 2}};
  const double square = 45.25 * 45.25;
  const auto found = compression(e, build_parts(ratio_example(), {}, 0.05).crown);
  EXPECT_NEAR(found->notches, 2 * square * (kPi - (2 * kPi / 3 - std::sqrt(3) / 2)), 1e-6);
}

// Closed form: with the pin off the bore axis the ends of the travel are where rod and throw are in line.
TEST(CompressionRatio, OffsetPin) {
  Engine e = ratio_example();
  e.cylinder.pin_offset = 3;
  const double r = 41, l = e.cylinder.rod_length;
  EXPECT_NEAR(ratio_of(e).swept,
              kPi * 45.25 * 45.25 * (std::sqrt((l + r) * (l + r) - 9) - std::sqrt((l - r) * (l - r) - 9)), 1e-6);
}

TEST(CompressionRatio, RefusesADomeThatFillsTheChamber) {
  Engine e = ratio_example();
  e.head.chamber_volume = 5 * kCm3;
  e.piston.round_dome = RoundDome{12, 80};
  EXPECT_THROW(ratio_of(e), InputError);
}

}  // namespace
}  // namespace eyebrow
