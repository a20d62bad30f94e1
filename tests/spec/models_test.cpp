// The example engines: each reads without a doubt, and says what it is meant to say.
#include <filesystem>
#include <set>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

class Model : public ::testing::TestWithParam<std::string> {};
INSTANTIATE_TEST_SUITE_P(Every, Model, ::testing::ValuesIn(kAllModels));

TEST_P(Model, ReadsWithoutFaultOrDoubt) {
  const EngineFile file = read_engine(model_path(GetParam()));
  EXPECT_TRUE(file.warnings.empty());
  EXPECT_GE(file.engine.valves.size(), 2u);
}

TEST_P(Model, SaysThatItIsInvented) {
  EXPECT_THAT(read_engine(model_path(GetParam())).engine.name, ::testing::EndsWith("(invented)"));
  EXPECT_THAT(file_text(model_path(GetParam())), ::testing::StartsWith("# An invented engine"));
}

TEST_P(Model, EachValveHasALobeAndAPocketOfItsOwn) {
  const Engine engine = read_engine(model_path(GetParam())).engine;
  std::set<int> pockets;
  for (const Valve& valve : engine.valves) {
    EXPECT_FALSE(valve.lobe.empty());
    EXPECT_GE(valve.pocket, 0);
    EXPECT_TRUE(pockets.insert(valve.pocket).second);
    EXPECT_NEAR(valve.seat_width, 0.09 * valve.head_diameter, 1e-9);
    // Pockets are cut parallel to their valves.
    const Pocket& pocket = engine.piston.pockets[static_cast<std::size_t>(valve.pocket)];
    EXPECT_NEAR(dot(tilted_axis(pocket.tilt, pocket.lean), up_axis(engine, valve)), 1, 1e-12);
  }
}

TEST(Models, AreAllTested) {
  std::set<std::string> found;
  for (const auto& entry : std::filesystem::directory_iterator(EYEBROW_MODELS))
    if (entry.path().extension() == ".toml") found.insert(entry.path().stem().string());
  EXPECT_EQ(found, std::set<std::string>(kAllModels.begin(), kAllModels.end()));
}

TEST(Models, BigValveHeadSitsOnTheSamePiston) {
  const Engine stock = read_engine(model_path("inline_six_stock")).engine;
  const Engine big = read_engine(model_path("inline_six_big_valve")).engine;
  Engine swapped = big;
  swapped.name = stock.name;
  swapped.valves = stock.valves;
  EXPECT_EQ(dump(swapped), dump(stock)) << "only the valves differ";
  EXPECT_NE(dump(big), dump(stock));
}

TEST(Models, MeasuredSixHasSixCylindersOnTheBigValveHead) {
  const EngineFile file = read_engine(model_path("inline_six_measured"));
  const Engine big = read_engine(model_path("inline_six_big_valve")).engine;
  ASSERT_EQ(file.cylinders.size(), 6u);
  EXPECT_EQ(file.cylinders[4].name, "5");
  EXPECT_DOUBLE_EQ(file.cylinders[4].engine.piston.pockets[0].depth, 0.126 * 25.4);
  for (const MeasuredCylinder& cylinder : file.cylinders)
    for (std::size_t i = 0; i < 2; ++i) {
      EXPECT_EQ(cylinder.engine.valves[i].head_diameter, big.valves[i].head_diameter);
      EXPECT_NEAR(cylinder.engine.valves[i].rim_height, big.valves[i].rim_height, 0.006 * 25.4);
    }
}

TEST(Models, PentRoofExhaustsLeanTheOtherWay) {
  const Engine engine = read_engine(model_path("four_valve_pent_roof")).engine;
  for (const Valve& valve : engine.valves)
    EXPECT_EQ(up_axis(engine, valve).x > 0, valve.role == Role::intake) << valve.name;
  ASSERT_TRUE(engine.piston.roof_dome);
  EXPECT_EQ(engine.piston.roof_dome->planes.size(), 4u);
  EXPECT_NEAR(engine.piston.roof_dome->planes[3].toward, -90 * kDegree, 1e-12);
}

TEST(Models, CantedValvesTiltInTwoPlanes) {
  const EngineFile file = read_engine(model_path("canted_valve"));
  const Valve& intake = file.engine.valves[0];
  EXPECT_NEAR(std::tan(intake.tilt), std::hypot(std::tan(26 * kDegree), std::tan(4 * kDegree)), 1e-12);
  EXPECT_GT(up_axis(file.engine, intake).y, 0);
  EXPECT_LT(up_axis(file.engine, file.engine.valves[1]).y, 0);
  // Deck clearance from the block: 9.800 - (rod + throw, pin 0.030 off) - 1.270.
  const double deck = 9.800 - std::sqrt(8.510 * 8.510 - 0.030 * 0.030) - 1.270;
  EXPECT_NEAR(file.engine.cylinder.deck_clearance, deck * 25.4, 1e-9);
  EXPECT_EQ(intake.face, FaceShape::dished);
  EXPECT_EQ(file.engine.cylinder.notches.size(), 1u);
}

}  // namespace
}  // namespace eyebrow::testing
