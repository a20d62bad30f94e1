// like = "NAME": one table takes what it does not state from another.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

TEST(Like, TakesEveryKeyThatIsMissing) {
  const Engine engine = parsed(pent_roof()).engine;
  ASSERT_EQ(engine.valves.size(), 4u);
  Valve rear = engine.valves[1];
  EXPECT_EQ(rear.name, "intake_rear");
  EXPECT_DOUBLE_EQ(rear.y, -18.6);
  const Valve& front = engine.valves[0];
  EXPECT_EQ(rear.pocket, 1) << "its own pocket, by its name";
  EXPECT_EQ(rear.head_diameter, front.head_diameter);
  EXPECT_EQ(rear.tilt, front.tilt);
  EXPECT_EQ(rear.rim_height, front.rim_height);
  EXPECT_EQ(rear.lash, front.lash);
  EXPECT_EQ(engine.piston.pockets[1].diameter, engine.piston.pockets[0].diameter);
  EXPECT_EQ(engine.piston.pockets[1].depth_to, DepthTo::sharp_edge);
}

TEST(Like, AnOverrideOfTheOtherReachesBoth) {
  const Engine engine =
      parsed(pent_roof(), {{"valve.intake_front.lash", "0.3"}, {"pocket.exhaust_front.depth", "4.4"}}).engine;
  EXPECT_DOUBLE_EQ(engine.valves[0].lash, 0.3);
  EXPECT_DOUBLE_EQ(engine.valves[1].lash, 0.3);
  EXPECT_DOUBLE_EQ(engine.piston.pockets[2].depth, 4.4);
  EXPECT_DOUBLE_EQ(engine.piston.pockets[3].depth, 4.4);
}

TEST(Like, AnOverrideOfTheOneReachesItAlone) {
  const Engine engine = parsed(pent_roof(), {{"valve.intake_rear.lash", "0.3"}}).engine;
  EXPECT_DOUBLE_EQ(engine.valves[0].lash, 0.2);
  EXPECT_DOUBLE_EQ(engine.valves[1].lash, 0.3);
}

TEST(Like, AnOverrideReachesIntoWhatIsTaken) {
  const std::string text =
      replaced(pent_roof(), "[lobe.exhaust]", "[lobe.intake_two]\nlike = \"intake\"\n[lobe.exhaust]");
  const auto two = [](const Engine& e) { return e.lobes[1].durations[1].duration / kDegree; };
  const auto one = [](const Engine& e) { return e.lobes[0].durations[1].duration / kDegree; };
  const std::string named = replaced(replaced(text, "[valve.intake_front]", "[valve.intake_front]\nlobe = \"intake\""),
                                     "[valve.intake_rear]", "[valve.intake_rear]\nlobe = \"intake_two\"");
  const Engine both = parsed(named, {{"lobe.intake.durations.2.duration", "231"}}).engine;
  EXPECT_NEAR(one(both), 231, 1e-9);
  EXPECT_NEAR(two(both), 231, 1e-9);
  const Engine alone = parsed(named, {{"lobe.intake_two.durations.2.duration", "231"}}).engine;
  EXPECT_NEAR(one(alone), 230, 1e-9);
  EXPECT_NEAR(two(alone), 231, 1e-9);
}

TEST(Like, TakesThroughAChain) {
  std::string text =
      replaced(pent_roof(), "[valve.exhaust_front]",
               "[valve.intake_third]\nlike = \"intake_rear\"\ny = 0\npocket = \"none\"\n[valve.exhaust_front]");
  const Engine engine = parsed(text).engine;
  EXPECT_EQ(engine.valves[2].head_diameter, 34.0);
  EXPECT_EQ(engine.valves[2].y, 0);
  EXPECT_EQ(engine.valves[2].pocket, -1);
}

TEST(Like, DoesNotTakeAnotherWayToStateTheSame) {
  // The other states rim height and flush lift; stating one of them here must not leave the other to disagree with.
  const std::string text = replaced(pent_roof(), "[valve.intake_rear]\nlike = \"intake_front\"\n",
                                    "[valve.intake_rear]\nlike = \"intake_front\"\nflush_lift = 3.0\n");
  const double g = 15 * kDegree;
  EXPECT_NEAR(parsed(text).engine.valves[1].rim_height, 3.0 * std::cos(g) + 17.0 * std::sin(g), 1e-12);
  const std::string tilts = replaced(pent_roof(), "[pocket.intake_rear]\nlike = \"intake_front\"\n",
                                     "[pocket.intake_rear]\nlike = \"intake_front\"\ntilt_xz = 14\ntilt_yz = 2\n");
  EXPECT_TRUE(faults_of(tilts).empty());
  const std::string arc = replaced(pent_roof(), "[pocket.intake_rear]\nlike = \"intake_front\"\n",
                                   "[pocket.intake_rear]\nlike = \"intake_front\"\narc_chord = 30\narc_height = 8\n");
  EXPECT_NEAR(parsed(arc).engine.piston.pockets[1].diameter, 8 + 900.0 / 32, 1e-9);
}

TEST(Like, ANameTellsItsOwnRole) {
  // The wedge's intake states its role; an exhaust like it stays an exhaust.
  const std::string text = wedge_with("role = \"exhaust\"", "like = \"intake\"");
  EXPECT_EQ(parsed(text).engine.valves[1].role, Role::exhaust);
  EXPECT_EQ(parsed(text).engine.valves[1].lobe, "exhaust");
}

TEST(Like, ATakenNumberKeepsItsPlace) {
  const EngineFile file = parsed(pent_roof());
  EXPECT_EQ(file.origins.at("valve.intake_rear.margin").line, file.origins.at("valve.intake_front.margin").line);
  EXPECT_NE(file.origins.at("valve.intake_rear.y").line, file.origins.at("valve.intake_front.y").line);
}

TEST(Like, Slips) {
  const auto faults = [](const std::string& like) {
    return faults_of(
        replaced(pent_roof(), "[pocket.intake_rear]\nlike = \"intake_front\"", "[pocket.intake_rear]\nlike = " + like));
  };
  // One slip, one message: nothing of what the table would have taken over is told as missing.
  using ::testing::ElementsAre;
  EXPECT_THAT(faults("\"intak_front\""),
              ElementsAre(HasSubstr(
                  "like in [pocket.intake_rear]: there is no [pocket.intak_front]: did you mean \"intake_front\"?")));
  EXPECT_THAT(faults("\"intake_rear\""), ElementsAre(HasSubstr("goes in a circle")));
  EXPECT_THAT(faults("3"), ElementsAre(HasSubstr("must be a name in quotes, found a number")));
  const std::string circle =
      replaced(pent_roof(), "[pocket.intake_front]", "[pocket.intake_front]\nlike = \"intake_rear\"");
  EXPECT_THAT(faults_of(circle), ElementsAre(HasSubstr("goes in a circle")));
}

}  // namespace
}  // namespace eyebrow::testing
