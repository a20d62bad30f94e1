// --set key=value.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

Override set(const std::string& text) {
  return parse_override(text);
}

std::string refused(const std::string& text) {
  try {
    parse_override(text);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

TEST(Override, SplitsAtTheFirstEqualsSign) {
  EXPECT_EQ(set("cylinder.bore=4.04").key, "cylinder.bore");
  EXPECT_EQ(set("cylinder.bore=4.04").value, "4.04");
  EXPECT_EQ(set(" name = a = b ").key, "name");
  EXPECT_EQ(set(" name = a = b ").value, "a = b");
  EXPECT_THAT(refused("cylinder.bore"), HasSubstr("--set: \"cylinder.bore\" has no '='"));
  EXPECT_THAT(refused("=4"), HasSubstr("names no key"));
  EXPECT_THAT(refused("cylinder.bore="), HasSubstr("gives no value"));
  EXPECT_THAT(refused(""), HasSubstr("has no '='"));
}

TEST(Override, ReachesNumbersWithAnyUnit) {
  const auto bore = [](const std::string& value) {
    return parsed(wedge(), {{"cylinder.bore", value}}).engine.cylinder.bore;
  };
  EXPECT_DOUBLE_EQ(bore("4.04"), 4.04 * 25.4);
  EXPECT_DOUBLE_EQ(bore("+4.04"), 4.04 * 25.4);
  EXPECT_DOUBLE_EQ(bore("103 mm"), 103);
  EXPECT_DOUBLE_EQ(bore("103mm"), 103);
  EXPECT_DOUBLE_EQ(bore("4.04\""), 4.04 * 25.4);
  EXPECT_DOUBLE_EQ(bore("\"103 mm\""), 103) << "quoted as in the file";
  EXPECT_DOUBLE_EQ(parsed(wedge(), {set("cam.advance=4")}).engine.cams[0].advance, 4 * kDegree);
  EXPECT_DOUBLE_EQ(parsed(wedge(), {set("cam.advance=0.05 rad")}).engine.cams[0].advance, 0.05);
}

TEST(Override, ReachesWordsUnitsAndItemsOfLists) {
  EXPECT_TRUE(parsed(wedge(), {set("check.lash=running")}).engine.running_lash);
  EXPECT_EQ(parsed(wedge(), {set("name=mine")}).engine.name, "mine");
  EXPECT_EQ(parsed(wedge(), {set("pocket.intake.depth_to=deepest")}).engine.piston.pockets[0].depth_to,
            DepthTo::deepest);
  const Engine engine = parsed(wedge(), {set("lobe.intake.durations.2.duration=267")}).engine;
  EXPECT_DOUBLE_EQ(engine.lobes[0].durations[1].duration, 267 * kDegree);
  EXPECT_DOUBLE_EQ(engine.lobes[0].durations[0].duration, 287.7 * kDegree);
  EXPECT_EQ(faults_of(wedge(), {set("units=mm")}).empty(), false) << "the default unit changes what every number means";
}

TEST(Override, AddsAKeyThatTheFileDoesNotState) {
  EXPECT_DOUBLE_EQ(parsed(wedge(), {set("valve.intake.sunk=0.01")}).engine.valves[0].sunk, 0.254);
  EXPECT_DOUBLE_EQ(parsed(wedge(), {set("asked.intake.closest=0.06")}).engine.asked.valve.at(Role::intake).closest,
                   0.06 * 25.4);
  EXPECT_DOUBLE_EQ(parsed(wedge(), {set("piston.top_chamfer=1 mm")}).engine.piston.top_chamfer, 1);
  const Engine dished = parsed(wedge(), {set("piston.dish.diameter=2"), set("piston.dish.depth=0.1")}).engine;
  ASSERT_TRUE(dished.piston.dish);
  EXPECT_DOUBLE_EQ(dished.piston.dish->diameter, 50.8);
  const std::string without = wedge_with("[head]\nmilled = 0 ", "#");
  EXPECT_DOUBLE_EQ(parsed(without, {set("head.milled=0.01")}).engine.head.milled, 0.254);
}

TEST(Override, TheLastOfTwoWins) {
  EXPECT_DOUBLE_EQ(parsed(wedge(), {set("head.milled=0.01"), set("head.milled=0.02")}).engine.head.milled, 0.508);
}

TEST(Override, AnUnknownKeyIsRefusedWithTheNearest) {
  EXPECT_THAT(faults_of(wedge(), {set("cylinder.boer=4")}),
              ElementsAre("--set: unknown key \"boer\" in [cylinder]: did you mean \"bore\"?"));
  EXPECT_THAT(faults_of(wedge(), {set("cilinder.bore=4")}),
              ElementsAre("--set: unknown key \"cilinder\" in the top of the file: did you mean \"cylinder\"?"));
  EXPECT_THAT(faults_of(wedge(), {set("valve.intak.lash=0.02")}),
              ElementsAre("--set: valve.intak.lash: there is no [valve.intak]: did you mean \"intake\"?"));
  EXPECT_THAT(faults_of(wedge(), {set("pocket.zzz=0.02")}),
              ElementsAre("--set: pocket.zzz: there is no [pocket.zzz]: allowed are intake, exhaust"));
  EXPECT_THAT(faults_of(wedge(), {set("lobe.inlet.lift=0.4")}), ElementsAre(HasSubstr("there is no [lobe.inlet]")));
  EXPECT_THAT(faults_of(wedge(), {set("cylinder.bore.x=4")}),
              ElementsAre("--set: cylinder.bore.x: cylinder.bore is a number and has no parts"));
  EXPECT_THAT(faults_of(wedge(), {set("cylinder..bore=4")}), ElementsAre(HasSubstr("an empty part")));
  EXPECT_THAT(faults_of(wedge(), {set(".=4")}), ElementsAre(HasSubstr("an empty part")));
  const std::string two_cams = file_text(model_path("four_valve_pent_roof"));
  EXPECT_THAT(faults_of(two_cams, {set("cam.advance=4")}),
              ElementsAre("--set: cam.advance: there is no [cam.advance]: allowed are intake, exhaust"));
}

TEST(Override, TheCentreOfOneLobeMakesAnotherCamshaft) {
  const auto warnings = parsed(wedge(), {set("lobe.intake.centre=106")}).warnings;
  ASSERT_EQ(warnings.size(), 1u);
  EXPECT_THAT(to_string(warnings[0]),
              HasSubstr("lobe.intake.centre: its camshaft carries 2 lobes, ground together: with "
                        "this centre it is a different camshaft"));
  EXPECT_THAT(to_string(warnings[0]), HasSubstr("set cam.advance"));
  EXPECT_TRUE(parsed(wedge(), {set("cam.advance=2")}).warnings.empty());
  // One lobe a cam: its centre is the cam's.
  const std::string two_cams = file_text(model_path("four_valve_pent_roof"));
  EXPECT_TRUE(parsed(two_cams, {set("lobe.intake.centre=110")}).warnings.empty());
}

TEST(Override, ItemsAreCountedFromOne) {
  for (const char* item : {"0", "6", "-1", "x", "99999999999999999999"}) {
    const auto faults = faults_of(wedge(), {set(std::string("lobe.intake.durations.") + item + ".at=0.3")});
    ASSERT_FALSE(faults.empty()) << item;
    EXPECT_THAT(faults[0], HasSubstr("lobe.intake.durations has 5 items, counted from 1")) << item;
  }
}

TEST(Override, ABadValueIsRefusedByItsKey) {
  EXPECT_THAT(faults_of(wedge(), {set("cylinder.bore=4.03 mm")}),
              ElementsAre(HasSubstr("--set: cylinder.bore is 4.03 mm; allowed is 12 to 700 mm")));
  EXPECT_THAT(faults_of(wedge(), {set("cylinder.bore=big")}),
              ElementsAre("--set: cylinder.bore must be a length: \"big\" is not a number"));
  EXPECT_THAT(faults_of(wedge(), {set("cylinder=3")}),
              ::testing::Contains("--set: cylinder must be a table ([cylinder]), found a number"));
  EXPECT_THAT(faults_of(wedge(), {set("valve.intake=3")}),
              ::testing::Contains(HasSubstr("[valve] holds named tables")));
  EXPECT_THAT(faults_of(wedge(), {set("lobe.intake.durations=3")}), ::testing::Contains(HasSubstr("must be a list")));
}

TEST(Override, AKeyOfAMillionPartsDoesNoHarm) {
  std::string key = "a";
  for (int i = 0; i < 1000000; ++i) key += ".a";
  EXPECT_THAT(faults_of(wedge(), {{key, "1"}}), ElementsAre(HasSubstr("too many parts")));
}

}  // namespace
}  // namespace eyebrow::testing
