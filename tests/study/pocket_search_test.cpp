// The search by the closed-form model against all places of a grid.
#include "study/pocket_search.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "study/model.hpp"
#include "study/pocket_cases.hpp"
#include "study/pocket_model.hpp"

namespace eyebrow::study {
namespace {

constexpr double kCutter = 20;        // mm, radius: 0.8 mm more than the upright intake needs all round
constexpr double kGrid = 0.04;        // mm
constexpr double kLosesMost = 0.003;  // mm of the thickest metal

double thickness(const Engine& engine, const PocketModel& model, const PocketShape& shape,
                 const std::vector<Tool>& neighbours) {
  return metal_left(engine.piston, model, shape, neighbours).thinnest();
}

// Under an upright valve a wide cutter may stand up to 0.8 mm aside. Of all places of a grid in that circle none leaves
// thicker metal than the one that is found, with ring groove, underside and a neighbour on different sides.
TEST(PocketSearch, ThickestMetalIsThatOfAGrid) {
  std::mt19937 random(7);
  const auto draw = [&](double from, double to) { return std::uniform_real_distribution<>(from, to)(random); };
  int pinched = 0;
  for (int round = 0; round < 6; ++round) {
    Engine engine = upright(kTravel, 1.2);
    engine.piston.top_land_height = draw(0.5, 4);
    engine.piston.ring_groove_depth = draw(2, 4);
    engine.piston.underside = draw(4, 12);
    engine.valves[0].x = draw(-6, 6);
    engine.valves[0].y = draw(15, 20);
    const Parts parts = build_parts(engine, {}, 0.01);
    const study::Setup setup(engine, parts);
    const PocketModel model(setup, 0, {0, 0, 1}, 0);
    PocketLimits limits;
    limits.asked = setup.valves[0].asked;
    limits.radii = {kCutter};
    limits.goal = PocketWish::Goal::thickest;
    Tool neighbour;
    neighbour.floor_centre = {draw(-10, 10), -22, -2};
    neighbour.radius = 16.2;
    limits.neighbours = {neighbour};
    const PocketShape found = best_shape(engine.piston, model, limits, model.start());
    ASSERT_GT(model.margins(found, limits.asked).across(), -0.001);
    ASSERT_GT(model.margins(found, limits.asked).axial(), -0.001);
    const double reached = thickness(engine, model, found, limits.neighbours);
    // The floor is the same everywhere: the valve is upright.
    PocketShape at = found;
    double best = -INFINITY;
    for (double x = -0.8; x <= 0.8; x += kGrid)
      for (double y = -0.8; y <= 0.8; y += kGrid) {
        if (std::hypot(x, y) > 0.8) continue;
        at.x = engine.valves[0].x + x;
        at.y = engine.valves[0].y + y;
        best = std::max(best, thickness(engine, model, at, limits.neighbours));
      }
    EXPECT_GT(reached, best - kLosesMost) << "round " << round;
    const ModelMetal left = metal_left(engine.piston, model, found, limits.neighbours);
    pinched += std::fabs(left.groove - left.neighbour) < 0.01;
  }
  EXPECT_GT(pinched, 0) << "some are to stand between two";
}

// The pocket of a corner radius, wider or deeper than need be where that leaves thicker metal: other starts, some
// millimetres away, lead to no thicker one, nor does the pocket of least volume.
TEST(PocketSearch, ThickestMetalIsThatOfOtherStarts) {
  std::mt19937 random(7);
  const Model wedge("two_valve_wedge");
  Engine flat = upright(kTravel, 1.2);
  flat.piston.top_land_height = 5;
  flat.piston.ring_groove_depth = 3;
  for (const bool tilted : {false, true}) {
    const Engine& engine = tilted ? wedge.file.engine : flat;
    const Parts parts = build_parts(engine, {}, 0.01);
    const study::Setup setup(engine, parts);
    const PocketModel model(setup, 0, tilted ? setup.valves[0].place.up : Vec3{0, 0, 1}, 3);
    PocketLimits limits;
    limits.asked = setup.valves[0].asked;
    const auto reached = [&](PocketWish::Goal goal, const PocketShape& from) {
      limits.goal = goal;
      const PocketShape shape = best_shape(engine.piston, model, limits, from);
      EXPECT_GT(model.margins(shape, limits.asked).across(), -0.001);
      EXPECT_GT(model.margins(shape, limits.asked).axial(), -0.001);
      return thickness(engine, model, shape, {});
    };
    const double found = reached(PocketWish::Goal::thickest, model.start());
    EXPECT_GE(found, reached(PocketWish::Goal::least_volume, model.start()) - kLosesMost);
    for (int i = 0; i < 3; ++i) {
      PocketShape other = model.start();
      other.x += std::uniform_real_distribution<>(-3, 3)(random);
      other.y += std::uniform_real_distribution<>(-3, 3)(random);
      EXPECT_GE(found, reached(PocketWish::Goal::thickest, other) - kLosesMost) << i;
    }
  }
}

// More metal asked for than there is: the search ends soon, by a pocket that is still its own valve's.
TEST(PocketSearch, AnAskThatCannotBeHadEndsBesideTheValve) {
  const Model roof("four_valve_pent_roof");
  for (std::size_t valve = 0; valve < roof.setup.valves.size(); ++valve) {
    SCOPED_TRACE(roof.file.engine.valves[valve].name);
    const ValveSetup& of = roof.setup.valves[valve];
    const PocketModel model(roof.setup, static_cast<int>(valve), of.place.up, 0);
    PocketLimits limits;
    limits.asked = of.asked;
    limits.over_groove = 50;
    int looks = 0;
    limits.poll = [&] { ++looks; };
    const PocketShape home = model.start(), found = best_shape(roof.file.engine.piston, model, limits, home);
    EXPECT_GT(looks, 0);
    EXPECT_LT(looks, 400);
    EXPECT_LE(std::hypot(found.x - home.x, found.y - home.y), home.radius + 0.01);
    EXPECT_LE(found.radius, 1.5 * home.radius + 0.01);
    EXPECT_GE(found.radius, 0.5);
  }
}

TEST(PocketSearch, StopsWhereItIsAskedTo) {
  const Model wedge("two_valve_wedge");
  const PocketModel model(wedge.setup, 0, wedge.setup.valves[0].place.up, 0);
  PocketLimits limits;
  limits.asked = wedge.setup.valves[0].asked;
  limits.poll = [] { throw Interrupted("stopped"); };
  EXPECT_THROW(best_shape(wedge.file.engine.piston, model, limits, model.start()), Interrupted);
}

}  // namespace
}  // namespace eyebrow::study
