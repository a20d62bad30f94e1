// What a cam card leaves open: the band of lifts holds lobes of other making, and is no wider than these differ.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "eyebrow/motion.hpp"
#include "motion/extreme_lobes.hpp"
#include "motion/made_lobes.hpp"

namespace eyebrow {
namespace {

/// Checking lifts in parts of the greatest: 0.020, 0.050, 0.100, 0.200 and 0.300 in on a lobe of 0.355 in.
const std::vector<std::vector<double>> kCards = {
    {0.14}, {0.14, 0.57}, {0.056, 0.14, 0.57}, {0.056, 0.14, 0.28, 0.57}, {0.056, 0.14, 0.28, 0.57, 0.85}};
constexpr double kLift = 10;     // mm
constexpr double kLength = 2.4;  // crank radians from nose to base circle
/// mm: beside a card's point the band opens like a V, which a smooth curve rounds off (0.03 mm a degree over a tenth of
/// one), and the made lobes are read between samples.
constexpr double kSlack = 0.0025;

Lobe card_of(const made::Flank& flank, const std::vector<double>& heights) {
  Lobe lobe;
  lobe.name = "made";
  lobe.lift = kLift;
  lobe.centre = 106 * kDegree;
  for (double height : heights) lobe.durations.push_back({kLift * height, 2 * kLength * flank.place(height)});
  return lobe;
}

/// Share of made lobes that lie between least and greatest at every angle above their lowest checking lift.
double share_held(const std::vector<double>& heights, bool blended, int count) {
  made::Lobes lobes(20);
  int held = 0, without = 0;
  double worst = 0;
  for (int i = 0; i < count; ++i) {
    const made::Flank flank = lobes.next(blended);
    const LobeCurves curves = lobe_curves(card_of(flank, heights));
    if (!curves.band) {
      ++without;
      continue;
    }
    const double lowest = kLength * flank.place(heights.front());
    double out = 0;
    for (double x = 0; x <= lowest; x += 0.01) {
      const double truth = kLift * flank.at(x / kLength);
      out = std::max({out, truth - curves.band->greatest.lift(x), curves.band->least.lift(-x) - truth});
      // The middle keeps between them, to rounding.
      EXPECT_LE(curves.band->least.lift(x), curves.middle.lift(x) + 1e-4);
      EXPECT_GE(curves.band->greatest.lift(x), curves.middle.lift(x) - 1e-4);
    }
    held += out <= kSlack;
    worst = std::max(worst, out);
  }
  std::printf("%zu durations: %d of %d %s held, %d without a band, furthest outside %.4f mm\n", heights.size(), held,
              count - without, blended ? "blends" : "lobes of one law", without, worst);
  EXPECT_LE(without, 0.05 * count);
  return static_cast<double>(held) / (count - without);
}

TEST(Band, HoldsLobesOfOtherMaking) {
  for (const auto& heights : kCards) EXPECT_GE(share_held(heights, false, 120), 0.99) << heights.size();
  // 0.020 and 0.050 in, as most cards have them: the lower one is on the ramp.
  EXPECT_GE(share_held({0.056, 0.14}, false, 120), 0.99);
}

// Two laws mixed in any parts, of other lengths too: stranger than what is ground, and held nearly as well.
TEST(Band, HoldsMostBlends) {
  for (const auto& heights : kCards) EXPECT_GE(share_held(heights, true, 60), 0.85) << heights.size();
}

/// Only lobes that truly pass through the card count.
void expect_on_card(const made::OnCard& lobe, const std::vector<made::CardPoint>& card) {
  for (const made::CardPoint& point : card) ASSERT_NEAR(lobe.fit.at(point.angle), point.height, made::kOnCard);
  ASSERT_TRUE(lobe.fit.flank.falls());
  ASSERT_TRUE(lobe.fit.flank.plausible());
  for (const double number : lobe.fit.numbers) ASSERT_TRUE(0 <= number && number <= 1);
}

// Twice what fitting lobes differ is what a band should not exceed. Random fits do not reach the ends of what fits:
// from each the lift is walked up and down between the card's points (extreme_lobes.hpp). With more walks they still
// move out: what is printed is no less than the true ratio.
TEST(Band, IsNotMuchWiderThanFittingLobesDiffer) {
  const made::Effort efforts[] = {{4, 2, 0}, {4, 2, 0}, {6, 3, 0}, {12, 3, 6}, {40, 6, 18}};
  constexpr double kMost = 2;
  constexpr int kCount = 7;
  const made::Shelves shelves(99);
  for (std::size_t n = 0; n < kCards.size(); ++n) {
    const auto& heights = kCards[n];
    made::Lobes lobes(21);
    std::vector<double> ratios, widths;
    for (int i = 0; i < kCount; ++i) {
      const made::Drawn known = lobes.draw(i % 2 == 0);
      const LobeCurves curves = lobe_curves(card_of(known.flank, heights));
      if (!curves.band) continue;
      std::vector<made::CardPoint> card;
      for (double height : heights) card.push_back({height, kLength * known.flank.place(height)});
      const std::vector<made::OnCard> fits = made::extremes(known, kLength, card, shelves, efforts[n]);
      for (const made::OnCard& fit : fits) ASSERT_NO_FATAL_FAILURE(expect_on_card(fit, card));
      double width = 0, spread = 0;
      int samples = 0;
      for (double x = 0.5 * card.front().angle; x <= card.front().angle; x += 0.02, ++samples) {
        double least = INFINITY, greatest = -INFINITY;
        for (const made::OnCard& lobe : fits) {
          least = std::min(least, kLift * lobe.fit.at(x));
          greatest = std::max(greatest, kLift * lobe.fit.at(x));
        }
        width += curves.band->greatest.lift(x) - curves.band->least.lift(x);
        spread += greatest - least;
      }
      ratios.push_back(width / spread);
      widths.push_back(width / samples);
    }
    ASSERT_EQ(ratios.size(), static_cast<std::size_t>(kCount)) << heights.size() << " durations: a card without a band";
    std::sort(ratios.begin(), ratios.end());
    std::sort(widths.begin(), widths.end());
    const double median = ratios[ratios.size() / 2];
    std::printf(
        "%zu durations: %zu cards; band %.3f mm (median of means), %.2f times what the lobes differ (median; "
        "%.2f to %.2f)\n",
        heights.size(), ratios.size(), widths[widths.size() / 2], median, ratios.front(), ratios.back());
    EXPECT_LE(median, kMost) << heights.size() << " durations";
  }
}

}  // namespace
}  // namespace eyebrow
