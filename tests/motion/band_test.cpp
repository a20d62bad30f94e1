// What a cam card leaves open: the band of lifts holds lobes of other making, and is no wider than these differ.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "eyebrow/motion.hpp"
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
  for (const auto& heights : kCards) EXPECT_GE(share_held(heights, false, 200), 0.985) << heights.size();
  // 0.020 and 0.050 in, as most cards have them: the lower one is on the ramp.
  EXPECT_GE(share_held({0.056, 0.14}, false, 200), 0.985);
}

// Two laws mixed in any parts, of other lengths too: stranger than what is ground, and held nearly as well.
TEST(Band, HoldsMostBlends) {
  for (const auto& heights : kCards) EXPECT_GE(share_held(heights, true, 60), 0.85) << heights.size();
}

// Twice what fitting lobes differ is what a band should not exceed. How far they differ shows slowly: with more
// durations ever fewer lobes are found that fit. With 40 and 100 tries a card, as here, the bands of one to five
// durations are 1.9, 2.0, 2.2, 3.7 and 5.9 times as wide (2.0, 0.31, 0.22, 0.11 and 0.08 mm of a lift of 10); with
// 1,600 tries it was 1.3, 1.6, 1.7, 2.7 and 3.6. The limits here keep them from growing.
TEST(Band, IsNotMuchWiderThanFittingLobesDiffer) {
  constexpr int kCount = 8, kFewest = 12;
  const double limit[] = {2, 2, 3, 5, 8};
  for (std::size_t n = 0; n < kCards.size(); ++n) {
    const auto& heights = kCards[n];
    made::Lobes lobes(21);
    std::vector<double> ratios, widths;
    for (int i = 0; i < kCount; ++i) {
      const made::Flank flank = lobes.next(i % 2 == 0);
      const LobeCurves curves = lobe_curves(card_of(flank, heights));
      if (!curves.band) continue;
      std::vector<made::CardPoint> card;
      for (double height : heights) card.push_back({height, kLength * flank.place(height)});
      std::vector<made::Fitted> fits{{flank, kLength}};
      for (int k = 0; k < (n < 2 ? 40 : 100); ++k) {
        // From three points on a single law has too few numbers to fit but by chance.
        const made::Family& family = n < 2 || k % 4 == 0 ? lobes.family() : lobes.blended();
        if (auto fit = made::fitted(family, lobes.cube(family.numbers), card)) fits.push_back(*std::move(fit));
      }
      if (static_cast<int>(fits.size()) < kFewest) continue;
      double width = 0, spread = 0;
      int samples = 0;
      for (double x = 0.5 * card.front().angle; x <= card.front().angle; x += 0.02, ++samples) {
        double least = INFINITY, greatest = -INFINITY;
        for (const made::Fitted& fit : fits) {
          least = std::min(least, kLift * fit.at(x));
          greatest = std::max(greatest, kLift * fit.at(x));
        }
        width += curves.band->greatest.lift(x) - curves.band->least.lift(x);
        spread += greatest - least;
      }
      ratios.push_back(width / spread);
      widths.push_back(width / samples);
    }
    ASSERT_GE(ratios.size(), 3u) << heights.size() << " durations: too few cards that other lobes fit";
    std::sort(ratios.begin(), ratios.end());
    std::sort(widths.begin(), widths.end());
    const double median = ratios[ratios.size() / 2];
    std::printf(
        "%zu durations: %zu cards; band %.3f mm (median of means), %.2f times what the lobes differ (median; "
        "%.2f to %.2f)\n",
        heights.size(), ratios.size(), widths[widths.size() / 2], median, ratios.front(), ratios.back());
    EXPECT_LE(median, limit[n]) << heights.size() << " durations";
  }
}

}  // namespace
}  // namespace eyebrow
