#include "scene/label_places.hpp"

#include <gtest/gtest.h>

#include <random>

namespace eyebrow::scene {
namespace {

TEST(LabelPlaces, NeverOnEachOtherNorOffThePage) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> x(20, 980), y(20, 580), width(60, 190), height(20, 50);
  const Area page{0, 0, 1000, 600};
  for (int round = 0; round < 300; ++round) {
    std::vector<LabelWish> wishes;
    for (int i = 0; i < 8; ++i) wishes.push_back({{x(random), y(random)}, width(random), height(random)});
    if (round % 3 == 0)
      for (LabelWish& each : wishes) each.at = wishes.front().at;  // all at one place
    const std::vector<Area> placed = place_labels(wishes, {}, page);
    ASSERT_EQ(placed.size(), wishes.size());
    for (std::size_t i = 0; i < placed.size(); ++i) {
      EXPECT_TRUE(page.holds(placed[i]));
      EXPECT_NEAR(placed[i].right - placed[i].left, wishes[i].width, 1e-9);
      EXPECT_NEAR(placed[i].top - placed[i].bottom, wishes[i].height, 1e-9);
      for (std::size_t k = 0; k < i; ++k) EXPECT_FALSE(placed[i].meets(placed[k])) << round;
    }
  }
}

TEST(LabelPlaces, OffWhatIsToBeSeen) {
  const std::vector<LabelWish> wishes{{{500, 300}, 120, 30}, {{510, 300}, 120, 30}};
  const Area seen{440, 250, 570, 350};
  for (const Area& each : place_labels(wishes, {seen}, {0, 0, 1000, 600})) EXPECT_FALSE(each.meets(seen));
}

TEST(LabelPlaces, NotOnEachOtherEvenWhereThePageIsFull) {
  const std::vector<LabelWish> wishes(6, {{50, 30}, 90, 25});
  const std::vector<Area> placed = place_labels(wishes, {}, {0, 0, 100, 60});
  for (std::size_t i = 0; i < placed.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) EXPECT_FALSE(placed[i].meets(placed[k]));
}

}  // namespace
}  // namespace eyebrow::scene
