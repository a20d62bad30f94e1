// The convex pieces of a valve against its whole outline, and the search over edges against dense sampling.
#include "gap/convex_outline.hpp"

#include <gtest/gtest.h>

#include "gap/edge_search.hpp"
#include "gap/outline.hpp"
#include "gap/profile_distance.hpp"
#include "gap/tolerances.hpp"
#include "random_parts.hpp"

namespace eyebrow::gap {
namespace {

using random_parts::Dice;

double nearest_piece(const std::vector<ConvexOutline>& pieces, double r, double w) {
  double least = 1e9, dr = 0, dw = 0;
  for (const ConvexOutline& piece : pieces) least = std::min(least, piece.eval(r, w, dr, dw));
  return least;
}

TEST(ConvexPieces, TogetherAreTheValve) {
  Dice dice(4);
  int outside = 0;
  for (int kind = 0; kind < 6; ++kind) {
    const Profile valve = filled_outline(random_parts::valve(dice, kind, 18));
    const ProfileDistance whole(valve);
    const std::vector<ConvexOutline> pieces = convex_pieces(valve);
    EXPECT_EQ(pieces.size(), 2u) << "head and stem";
    for (int i = 0; i < 4000; ++i) {
      const double r = dice.between(0, 30), w = dice.between(-10, 60);
      const double expected = whole.eval(r, w).value;
      if (expected <= 0) {
        EXPECT_LE(nearest_piece(pieces, r, w), 1e-12);
        continue;
      }
      ++outside;
      EXPECT_NEAR(nearest_piece(pieces, r, w), expected, 1e-10)
          << random_parts::kValves[kind] << " at " << r << ", " << w;
    }
  }
  EXPECT_GT(outside, 12000);
}

// Made a little larger or smaller, or slid about, a valve is a head and a stem as well, and the head has the whole rim.
TEST(ConvexPieces, AreTwoOfEveryOutlineMadeOfAValve) {
  Dice dice(5);
  for (int i = 0; i < 600; ++i) {
    const int kind = i % 6;
    const double grow = (dice.below(2) ? 1 : -1) * dice.decades(-5, -1.5);
    Profile outline = offset_outline(random_parts::valve(dice, kind, dice.between(12, 22)), grow);
    if (grow > 0 && dice.below(2)) outline = widened_outline(outline, dice.decades(-4, -1), dice.decades(-4, -1));
    const Profile whole = filled_outline(outline);
    const ProfileDistance distance(outline);
    const std::vector<ConvexOutline> pieces = convex_pieces(whole);
    SCOPED_TRACE(std::string(random_parts::kValves[kind]) + ", " + std::to_string(grow));
    ASSERT_EQ(pieces.size(), 2u);
    EXPECT_NEAR(pieces.front().reach(), outline.rim_radius, 1e-12);
    // Nothing of the valve is outside.
    for (int k = 0; k < 40; ++k) {
      const double r = dice.between(0, 24), w = dice.between(-4, 12);
      const double in_outline = distance.eval(r, w).value;
      if (in_outline <= -1e-5) {
        EXPECT_LE(nearest_piece(pieces, r, w), 1e-9) << r << ", " << w;
      }
      if (in_outline > 0) {
        EXPECT_LE(nearest_piece(pieces, r, w), in_outline + 0.01 * std::fabs(grow) + 1e-9) << r << ", " << w;
      }
    }
  }
}

TEST(ConvexPieces, AreConvexAndTheirGradientIsATangent) {
  Dice dice(5);
  for (int kind = 0; kind < 6; ++kind) {
    const std::vector<ConvexOutline> pieces = convex_pieces(filled_outline(random_parts::valve(dice, kind, 18)));
    for (const ConvexOutline& piece : pieces)
      for (int i = 0; i < 3000; ++i) {
        const double r = dice.between(0, 25), w = dice.between(-8, 20), r2 = dice.between(0, 25),
                     w2 = dice.between(-8, 20);
        double dr = 0, dw = 0, unused = 0;
        const double here = piece.eval(r, w, dr, dw), there = piece.eval(r2, w2, unused, unused);
        EXPECT_GE(there, here + dr * (r2 - r) + dw * (w2 - w) - 1e-9);
        EXPECT_LE(std::fabs(there - here), std::hypot(r2 - r, w2 - w) + 1e-9);
        EXPECT_TRUE(here <= 0 || dr >= -1e-12) << "the distance falls with r";
      }
  }
}

// The second nearest side: no more than the distance anywhere, and as much where two are as near.
TEST(ConvexPieces, ASecondSideBoundsTheDepthBesideItsRidges) {
  Dice dice(7);
  int on_ridge = 0;
  for (int kind = 0; kind < 6; ++kind) {
    const ConvexOutline head = convex_pieces(filled_outline(random_parts::valve(dice, kind, 18))).front();
    for (int i = 0; i < 4000; ++i) {
      const double r = dice.between(0, 18), w = dice.between(-1, 6), r2 = dice.between(0, 20), w2 = dice.between(-3, 9);
      double dr = 0, dw = 0, er = 0, ew = 0;
      const double second = head.beside(r, w, dr, dw), here = head.eval(r, w, er, ew);
      EXPECT_LE(second + dr * (r2 - r) + dw * (w2 - w), head.eval(r2, w2, er, ew) + 1e-9);
      EXPECT_GE(dr, -1e-12);
      if (here > 0) continue;
      EXPECT_LE(second, here);
      // Out along the way that the depth falls by, until another side is as near: there the two change places.
      double low = 0, high = 6;
      head.eval(r, w, er, ew);
      const auto nearest_still = [&](double way) {
        double nr = 0, nw = 0;
        head.eval(r - way * er, w - way * ew, nr, nw);
        return std::fabs(nr - er) + std::fabs(nw - ew) < 1e-6;
      };
      if (r - high * er < 0 || nearest_still(high)) continue;
      for (int k = 0; k < 60; ++k) (nearest_still(0.5 * (low + high)) ? low : high) = 0.5 * (low + high);
      double nr = 0, nw = 0;
      const double at_ridge = head.eval(r - low * er, w - low * ew, nr, nw);
      EXPECT_NEAR(head.beside(r - low * er, w - low * ew, nr, nw), at_ridge, 1e-6);
      ++on_ridge;
    }
  }
  EXPECT_GT(on_ridge, 1000);
}

TEST(ConvexPieces, TheWayUpDipsWithinItsBounds) {
  Dice dice(8);
  double widest = 0;
  for (int i = 0; i < 6000; ++i) {
    const ConvexOutline head =
        convex_pieces(filled_outline(random_parts::valve(dice, i % 6, dice.between(12, 22)))).front();
    const double r = dice.between(0, head.reach()), spread = dice.decades(-4, 0.3);
    const ConvexOutline::Dips dips = head.dips_along(r, spread);
    widest = std::max(widest, dips.steep - dips.flat);
    for (int k = 0; k < 10; ++k) {
      const double at = r + dice.between(-spread, spread);
      if (at < 1e-6 || at > head.reach() - 1e-6) continue;
      const double slope = (head.lower(at + 1e-7).w - head.lower(at - 1e-7).w) / 2e-7, dip = std::atan2(1, slope);
      EXPECT_GE(dip, dips.flat - 1e-3);
      EXPECT_LE(dip, dips.steep + 1e-3);
    }
  }
  EXPECT_GT(widest, 1);
}

TEST(EdgeSearch, ACoaxialCircleIsATie) {
  const Profile valve = shapes::outline(20, 1.5, 0, 0, 2, 3);
  const ConvexOutline head = convex_pieces(valve).front();
  EdgeSet edges;
  edges.add({{0, 0, -3}, {24, 0, 0}, {0, 24, 0}, kPi}, 7);
  edges.finish();
  Nearest best{1e9, {}, -1};
  edges.search(head, {0, 0, 0}, best);
  EXPECT_NEAR(best.value, 5, kEdgeSearch);  // 4 aside, 3 down
  EXPECT_EQ(best.face, 7);
}

TEST(EdgeSearch, FindsTheLeastOfDenseSamples) {
  Dice dice(6);
  for (int i = 0; i < 300; ++i) {
    const ConvexOutline head =
        convex_pieces(filled_outline(random_parts::valve(dice, i % 6, dice.between(12, 22)))).front();
    const Frame frame =
        frame_about({dice.between(-30, 30), dice.between(-30, 30), dice.between(-25, -6)}, dice.direction());
    const double radius = dice.decades(0, 2), half = dice.between(0.05, 1.5);
    const Arc arc = i % 5 == 0 ? Arc{frame.origin, {}, frame.x, 20 * half, true}
                               : Arc{frame.origin, radius * frame.x, radius * frame.y, half};
    double least = 1e9, dr = 0, dw = 0;
    constexpr int kSamples = 20000;
    for (int k = 0; k <= kSamples; ++k) {
      const Vec3 p = arc.at(arc.half * (2.0 * k / kSamples - 1));
      least = std::min(least, head.eval(std::hypot(p.x, p.y), p.z, dr, dw));
    }
    if (least <= 0) continue;
    EdgeSet edges;
    edges.add(arc, 0);
    edges.finish();
    Nearest best{1e9, {}, -1};
    edges.search(head, {0, 0, 0}, best);
    EXPECT_LT(best.value, least + kEdgeSearch) << i;
    // Between two samples the distance falls by no more than half their spacing, and far less where it is smooth.
    EXPECT_GT(best.value, least - norm(arc.at(arc.half) - arc.at(arc.half * (1 - 2.0 / kSamples)))) << i;
    EXPECT_NEAR(head.eval(std::hypot(best.point.x, best.point.y), best.point.z, dr, dw), best.value, 1e-12);
  }
}

}  // namespace
}  // namespace eyebrow::gap
