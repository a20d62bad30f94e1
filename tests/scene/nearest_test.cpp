// What the crown is coloured by.
#include <gtest/gtest.h>

#include "gap/dense_outline.hpp"
#include "scene/crown_distances.hpp"
#include "scene/drawn.hpp"
#include "scene/nearest_gaps.hpp"
#include "scene/palette.hpp"

namespace eyebrow::scene {
namespace {

/// Against the valves' outlines as fine polygons (tests/gap/dense_outline.hpp).
TEST(CrownDistances, AreThoseToTheNearestValve) {
  Drawn drawn("four_valve_pent_roof", false);
  const study::Setup setup(*drawn.shown.engine, *drawn.shown.parts);
  const Crown crown = colored_crown(*drawn.shown.parts);
  std::vector<dense::Outline> outlines;
  for (const Profile& profile : drawn.shown.parts->profiles) outlines.emplace_back(profile);
  CrownDistances distances(setup, crown);
  int compared = 0;
  for (const double degrees : {-20.0, 3.0, 15.0}) {
    std::vector<float> found = distances.beyond();
    distances.lower(found, degrees * kDegree);  // one object for all: what it remembers must not mislead it
    for (std::size_t i = 0; i < found.size(); i += 37) {
      if (std::isnan(found[i])) continue;
      double least = CrownDistances::kFarthest;
      for (std::size_t v = 0; v < outlines.size(); ++v) {
        const Vec3 up = setup.valves[v].place.up;
        const Vec3 arm =
            crown.points[i] - setup.valves[v].to_piston.rim_centre(setup.pose(static_cast<int>(v), degrees * kDegree));
        const double w = dot(arm, up);
        least = std::min(least, outlines[v].signed_distance(norm(arm - w * up), w));
      }
      EXPECT_NEAR(found[i], least, 5e-5) << i << " at " << degrees;
      ++compared;
    }
  }
  EXPECT_GT(compared, 500);
}

TEST(NearestGaps, LeastOfAllPlacesIsTheLeastClosestGap) {
  Drawn drawn("inline_six_big_valve", true);
  const auto least = nearest_over_cycle(drawn.shown);
  double found = INFINITY;
  for (const float each : least->distance)
    if (each < found) found = each;
  const double closest =
      std::min(drawn.least(0, GapKind::closest).gap.value, drawn.least(1, GapKind::closest).gap.value);
  // Sampled each half degree at places up to 1.5 mm apart: a little more, never less.
  EXPECT_GE(found, closest - 1e-3);
  EXPECT_LE(found, closest + 0.02);
}

TEST(NearestGaps, GivesUpWhenToldTo) {
  Drawn drawn("inline_six_stock", false);
  EXPECT_EQ(nearest_over_cycle(drawn.shown, {}, [] { return true; }), nullptr);
}

/// Relative luminance as WCAG 2.1 defines it.
double luminance(Color color) {
  const auto linear = [](double c) { return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); };
  return 0.2126 * linear(color.red) + 0.7152 * linear(color.green) + 0.0722 * linear(color.blue);
}

TEST(Palette, BandsCanBeToldApartInGrey) {
  for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::inch}) {
    const Bands& bands = bands_in(unit);
    ASSERT_EQ(bands.colors.size(), bands.bounds.size() + 1);
    for (std::size_t i = 0; i + 1 < bands.colors.size(); ++i)
      EXPECT_GT(luminance(bands.colors[i + 1]), luminance(bands.colors[i]) + 0.02) << i;
    EXPECT_EQ(band_of(bands, -0.001), 0u);
    EXPECT_EQ(band_of(bands, 0.001), 1u);
    EXPECT_EQ(band_of(bands, 1000), bands.bounds.size());
    EXPECT_LT(bands.bounds.back(), CrownDistances::kFarthest);
  }
}

TEST(Palette, KindsDifferByMoreThanTheirColour) {
  for (const LitKind a : kLitKinds)
    for (const LitKind b : kLitKinds) {
      if (a == b) continue;
      EXPECT_NE(lit_style(a).dash, lit_style(b).dash);
      EXPECT_FALSE(lit_style(a).corners == lit_style(b).corners && lit_style(a).turn == lit_style(b).turn);
    }
}

}  // namespace
}  // namespace eyebrow::scene
