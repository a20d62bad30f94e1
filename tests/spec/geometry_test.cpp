// Formulas of the engine file: tilts, flush lift, arcs, deck clearance, pocket depth.
#include <fmt/format.h>

#include "spec/pocket_floor.hpp"
#include "spec/rim_height.hpp"
#include "spec/support.hpp"
#include "spec/tilt.hpp"

namespace eyebrow::testing {
namespace {

// Published worked example (compound angle of an inclined valve): two tilts of 2 degrees at right angles make 2.83.
TEST(Tilt, TwoDegreesTwiceMake2Point83) {
  const Tilt tilt = from_projected(2 * kDegree, 2 * kDegree);
  EXPECT_NEAR(tilt.tilt / kDegree, 2.83, 0.005);
  EXPECT_NEAR(tilt.lean / kDegree, 45, 1e-12);
}

// Closed form: the axis seen from the front leans by a, seen from the side by b.
TEST(Tilt, ProjectsBackOntoBothPlanes) {
  for (const double a : {-50.0, -12.0, 0.0, 4.0, 26.0}) {
    for (const double b : {-45.0, -4.0, 0.0, 3.0, 60.0}) {
      const Tilt tilt = from_projected(a * kDegree, b * kDegree);
      const Vec3 axis = tilted_axis(tilt.tilt, tilt.lean);
      EXPECT_NEAR(std::atan2(axis.x, axis.z) / kDegree, a, 1e-12);
      EXPECT_NEAR(std::atan2(axis.y, axis.z) / kDegree, b, 1e-12);
    }
  }
}

TEST(Tilt, ProjectedTiltsInTheFileMakeTheSameValve) {
  const std::string text =
      replaced(wedge(), "[valve.intake]\nrole = \"intake\"", "[valve.intake]\ntilt_xz = 23\ntilt_yz = 0");
  const auto at = text.find("tilt = 23", text.find("tilt_yz"));
  const std::string projected = text.substr(0, at) + text.substr(text.find("rim_height", at));
  EXPECT_EQ(dump(parsed(projected).engine), dump(parsed(wedge()).engine));
}

// Closed form: the rim's lowest point is the centre, moved R square to the axis and downhill; after the flush lift it
// must lie in the deck face (z = 0), wherever the valve leans.
TEST(FlushLift, PutsTheRimsLowestPointIntoTheDeckFace) {
  for (const double tilt : {0.0, 2.0, 12.0, 23.0, 45.0}) {
    for (const double flush : {-1.0, 0.0, 4.572, 9.0}) {
      const double g = tilt * kDegree, radius = 25.654;
      const double height = height_from_flush_lift(flush, g, radius);
      double lowest = 1e9;
      for (int i = 0; i < 3600; ++i) {  // the rim, sampled: no formula shared
        const Vec3 up = tilted_axis(g, 0.7);
        const Frame frame = frame_about({0, 0, height}, up);
        const double t = i * 0.1 * kDegree;
        const Vec3 p = frame.origin - flush * up + (radius * std::cos(t)) * frame.x + (radius * std::sin(t)) * frame.y;
        lowest = std::fmin(lowest, p.z);
      }
      EXPECT_NEAR(lowest, 0, 1e-3) << tilt << " deg, flush lift " << flush;
    }
  }
}

// The wedge's own two readings: 0.180 in at 23 degrees under a 2.020 in head makes 0.5603 in.
TEST(FlushLift, StandsInForTheRimHeight) {
  const std::string without =
      wedge_with("rim_height = 0.560          # closed rim plane above the head's deck face\n", "");
  const double expected = (0.180 * std::cos(23 * kDegree) + 1.010 * std::sin(23 * kDegree)) * 25.4;
  EXPECT_NEAR(parsed(without).engine.valves[0].rim_height, expected, 1e-12);
  EXPECT_NEAR(parsed(wedge()).engine.valves[0].rim_height, 0.560 * 25.4, 1e-12) << "the height itself wins";
}

// design: half a degree of tilt costs 0.002 in through the flush lift, 0.009 in through the height (23 degrees, 2.02
// in).
TEST(FlushLift, TheTiltThatReconcilesIsFound) {
  const double radius = 1.010 * 25.4, flush = 0.180 * 25.4;
  for (const double tilt : {2.0, 12.0, 23.0, 40.0}) {
    const double height = height_from_flush_lift(flush, tilt * kDegree, radius);
    EXPECT_NEAR(reconciling_tilt(height, flush, radius, 20 * kDegree) / kDegree, tilt, 1e-9);
  }
  EXPECT_TRUE(std::isnan(reconciling_tilt(radius * 3, flush, radius, 0)));
}

// Closed form: of a circle of diameter d, the chord c lies h below the top of the arc, c^2 = 4 h (d - h).
TEST(PocketWidth, FromChordAndHeightOfTheArc) {
  const double d = 2.140;
  for (const double h : {0.3, 0.9, 1.5}) {
    const double c = std::sqrt(4 * h * (d - h));
    const std::string text =
        replaced(wedge(), "diameter = 2.140", fmt::format("arc_chord = {:.17g}\narc_height = {:.17g}", c, h));
    EXPECT_NEAR(parsed(text).engine.piston.pockets[0].diameter, d * 25.4, 1e-9);
  }
}

// Closed form, by sampling the floor with its corner: the deepest point of the torus and the disc.
TEST(PocketDepth, DeepestPointOfEachDatum) {
  Pocket pocket;
  pocket.x = -4;
  pocket.y = 22;
  pocket.diameter = 54;
  pocket.depth = 5;
  for (const double tilt : {0.0, 8.0, 23.0}) {
    for (const double corner : {0.0, 1.5, 4.0}) {
      for (const DepthTo to : {DepthTo::deepest, DepthTo::sharp_edge, DepthTo::floor_centre}) {
        pocket.tilt = tilt * kDegree;
        pocket.lean = 0.4;
        pocket.corner_radius = corner;
        pocket.depth_to = to;
        const DeepestPoint found = deepest_point(pocket);
        const double r = pocket.diameter / 2;
        // Floor distance down the axis that gives the stated depth in the stated sense, found by bisection on samples.
        const Vec3 axis = tilted_axis(pocket.tilt, pocket.lean);
        const Frame frame = frame_about({pocket.x, pocket.y, 0}, axis);
        const auto lowest = [&](double along, double c) {
          double z = 0;
          for (int i = 0; i < 720; ++i) {
            for (int j = 0; j <= 90; ++j) {
              const double t = i * 0.5 * kDegree, u = j * kDegree;
              const double out = r - c + c * std::sin(u), up = -along + c - c * std::cos(u);
              z = std::fmin(z, (frame.origin + up * axis + out * (std::cos(t) * frame.x + std::sin(t) * frame.y)).z);
            }
          }
          return -z;
        };
        double low = -30, high = 30;
        for (int i = 0; i < 40; ++i) {
          const double middle = (low + high) / 2;
          const double depth = to == DepthTo::floor_centre ? middle * std::cos(pocket.tilt)
                                                           : lowest(middle, to == DepthTo::sharp_edge ? 0 : corner);
          (depth < pocket.depth ? low : high) = middle;
        }
        EXPECT_NEAR(found.depth, lowest(low, corner), 2e-3)
            << tilt << " deg, corner " << corner << ", datum " << int(to);
      }
    }
  }
}

// The sum of the trade: block deck height - (rod + half the stroke) - compression height.
TEST(DeckClearance, IsTheSumOfTheParts) {
  const std::string text =
      wedge_with("deck_clearance = 0          #", "block_deck_height = 9.025\ncompression_height = 1.275 #");
  EXPECT_NEAR(parsed(text).engine.cylinder.deck_clearance, (9.025 - 6.000 - 1.740 - 1.275) * 25.4, 1e-9);
}

// Published: GATE 2025 Mechanical Engineering, question 60: crank 30, rod 50, offset 10 mm: far reach 79.37 mm.
TEST(DeckClearance, TakesTheHighestPlaceWithAnOffsetPin) {
  std::string text =
      wedge_with("deck_clearance = 0          #", "block_deck_height = \"110 mm\"\ncompression_height = \"30 mm\" #");
  text = replaced(text, "stroke         = 3.480", "stroke = \"60 mm\"");
  text = replaced(text, "rod_length     = 6.000", "rod_length = \"50 mm\"");
  text = replaced(text, "pin_offset     = 0 ", "pin_offset = \"10 mm\" ");
  EXPECT_NEAR(parsed(text).engine.cylinder.deck_clearance, 110 - 79.37 - 30, 0.005);
}

TEST(DeckClearance, AgreesWithTheStatedOneWithinAHundredth) {
  const auto text = [](double deck) {
    return wedge_with(
        "deck_clearance = 0          #",
        fmt::format("deck_clearance = \"{} mm\"\nblock_deck_height = 9.015\ncompression_height = 1.275 #", deck));
  };
  EXPECT_NEAR(parsed(text(0.009)).engine.cylinder.deck_clearance, 0.009, 1e-12) << "the stated one counts";
  EXPECT_EQ(faults_of(text(0.011)).size(), 1u);
}

}  // namespace
}  // namespace eyebrow::testing
