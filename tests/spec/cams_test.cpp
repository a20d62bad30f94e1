// Cams, lobes and which valve runs on which.
#include <fmt/format.h>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;

std::string with_separation(const std::string& separation) {
  std::string text = wedge_with("advance = 0 ", "separation = " + separation + "\nadvance = 0 ");
  text = replaced(text, "centre   = 104 ", "#");
  return replaced(text, "centre   = 110 ", "#");
}

// Closed form: separation 110, cam unmoved, makes 110 / 110; 105 makes 105 / 105 (cam degrees between the centres are
// half the crank degrees from one to the other).
TEST(Cams, SeparationPlacesBothLobes) {
  for (const double separation : {105.0, 110.0}) {
    const Engine engine = parsed(with_separation(fmt::format("{}", separation))).engine;
    EXPECT_NEAR(engine.lobes[0].centre / kDegree, separation, 1e-12);
    EXPECT_NEAR(engine.lobes[1].centre / kDegree, separation, 1e-12);
  }
}

TEST(Cams, SeparationAndCentreTogether) {
  const std::string text = wedge_with("advance = 0 ", "separation = 110\nadvance = 0 ");
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 2u);
  EXPECT_THAT(faults[0],
              HasSubstr("lobe.intake.centre is given, but the separation of its cam places the lobe already"));
}

TEST(Cams, SeparationNeedsBothRoles) {
  const std::string text =
      replaced(pent_roof(), "[cam.intake]\nadvance = 0", "[cam.intake]\nseparation = 110\nadvance = 0");
  expect_one_fault(replaced(text, "centre   = 112 ", "#"), "110\nadvance",
                   {"lies between an intake and an exhaust lobe; cam \"intake\" carries no exhaust lobe"});
}

TEST(Cams, OneCamCarriesEveryLobe) {
  const Engine engine = parsed(wedge()).engine;
  ASSERT_EQ(engine.cams.size(), 1u);
  EXPECT_EQ(engine.cams[0].name, "cam");
  for (const Lobe& lobe : engine.lobes) EXPECT_EQ(lobe.cam, "cam");
}

TEST(Cams, TwoCamsEachWithItsOwnAdvance) {
  const Engine engine = parsed(pent_roof(), {{"cam.intake.advance", "32"}, {"cam.exhaust.advance", "-20"}}).engine;
  ASSERT_EQ(engine.cams.size(), 2u);
  EXPECT_NEAR(engine.cams[0].advance / kDegree, 32, 1e-12);
  EXPECT_NEAR(engine.cams[1].advance / kDegree, -20, 1e-12);
  EXPECT_EQ(engine.lobes[1].cam, "exhaust");
}

TEST(Cams, ALobeOfTwoCamsMustNameItsOwn) {
  expect_one_fault(replaced(pent_roof(), "cam      = \"intake\"\n", ""), "[lobe.intake]",
                   {"missing key \"cam\" in [lobe.intake]: one of intake, exhaust"});
  expect_one_fault(replaced(pent_roof(), "cam      = \"intake\"", "cam      = \"inteke\""), "\"inteke\"",
                   {"lobe.intake.cam: there is no cam \"inteke\": did you mean \"intake\"?"});
}

TEST(Cams, NoMoreThanTwo) {
  expect_one_fault(replaced(pent_roof(), "[cam.exhaust]", "[cam.exhaust]\nadvance = 0\n[cam.third]"), "third",
                   {"more than 2 tables [cam.NAME]"});
}

TEST(Lobes, KeepWhatIsStatedInCrankRadians) {
  const Engine engine = parsed(wedge()).engine;
  const Lobe& lobe = engine.lobes[0];
  EXPECT_EQ(lobe.role, Role::intake);
  EXPECT_EQ(lobe.measured, LiftAt::lobe);
  EXPECT_NEAR(lobe.centre, 104 * kDegree, 1e-15);
  EXPECT_NEAR(lobe.lift, 0.430 * 25.4, 1e-12);
  ASSERT_EQ(lobe.durations.size(), 5u);
  EXPECT_NEAR(lobe.durations[0].lift, 0.508, 1e-12);
  EXPECT_NEAR(lobe.durations[4].duration, 125.8 * kDegree, 1e-12);
  EXPECT_EQ(parsed(pent_roof()).engine.lobes[0].measured, LiftAt::valve);
}

TEST(Lobes, DurationsMayStandInAnyOrder) {
  const std::string turned = wedge_with("{ at = 0.200, duration = 182.0 }, { at = 0.300, duration = 125.8 }",
                                        "{ at = 0.300, duration = 125.8 }, { at = 0.200, duration = 182.0 }");
  // The second line of durations is the intake's alone.
  EXPECT_EQ(dump(parsed(turned).engine), dump(parsed(wedge()).engine));
}

TEST(Lobes, Slips) {
  expect_one_fault(
      wedge_with("duration = 236.1", "duration = 270"), "270",
      {"lobe.intake.durations.3.duration is 270 deg at 0.1 in; it must be less than the 266 deg at 0.05 in"});
  expect_one_fault(wedge_with("at = 0.100, duration = 236.1", "at = 0.050, duration = 236.1"),
                   "0.050, duration = 236.1", {"lobe.intake.durations.3.at: 0.05 in is stated twice"});
  expect_one_fault(
      wedge_with("at = 0.300, duration = 125.8", "at = 0.430, duration = 125.8"), "0.430, dur",
      {"lobe.intake.durations.5.at is 0.43 in; a checking lift must be below the lobe's greatest lift, 0.43 in"});
  expect_one_fault(wedge_with("lift     = 0.430", "lift = 0.430\nlaw = \"3-4-5\""), "[lobe.intake]",
                   {"[lobe.intake] needs one of durations (or events), table, law; found durations, law"});
  expect_one_fault(wedge_with("lift     = 0.430", "lift = 0.430\nlaw_duration = 307"), "307",
                   {"lobe.intake.law_duration is of use with law only"});
  expect_one_fault(wedge_with("lift     = 0.430", "lift = 0.430\ntable_degrees = \"cam\""), "\"cam\"",
                   {"lobe.intake.table_degrees is of use with table only"});
  const auto from = wedge().find("durations = ["), to = wedge().find("[lobe.exhaust]");
  const auto with = [&](const std::string& curve) { return wedge().substr(0, from) + curve + wedge().substr(to); };
  expect_one_fault(with(""), "[lobe.intake]", {"needs one of durations (or events), table, law; found none"});
  expect_one_fault(with("durations = [ ]\n"), "[ ]", {"lobe.intake.durations has 0 items; allowed are 1 to 5"});
  expect_one_fault(with("law = \"3-4-6\"\nlaw_duration = 300\n"), "\"3-4-6\"",
                   {"lobe.intake.law is \"3-4-6\"", "modified trapezoid", "did you mean \"3-4-5\"?"});
  const std::string law = "law = \"cycloidal\"\nlaw_duration = 260\n";
  expect_one_fault(with(law + "ramp_lift = 0.012\n"), "0.012",
                   {"ramp_lift is given without lobe.intake.ramp_duration"});
  expect_one_fault(with(law + "ramp_duration = 33\n"), "33\n", {"ramp_duration is given without"});
  expect_one_fault(with(law + "ramp_lift = 3.5 # mm\nramp_duration = 33\n"), "3.5",
                   {"lobe.intake.ramp_lift is 3.5 in"});
  expect_one_fault(with("law = \"cycloidal\"\n"), "[lobe.intake]", {"missing key \"law_duration\""});
}

TEST(Lobes, EveryLawIsKnown) {
  const auto from = wedge().find("durations = ["), to = wedge().find("[lobe.exhaust]");
  const std::pair<const char*, CamLaw> laws[] = {{"harmonic", CamLaw::harmonic},
                                                 {"cycloidal", CamLaw::cycloidal},
                                                 {"3-4-5", CamLaw::poly345},
                                                 {"4-5-6-7", CamLaw::poly4567},
                                                 {"modified sine", CamLaw::modified_sine},
                                                 {"modified trapezoid", CamLaw::modified_trapezoid}};
  for (const auto& [name, law] : laws) {
    const std::string text =
        wedge().substr(0, from) + fmt::format("law = \"{}\"\nlaw_duration = 290\n", name) + wedge().substr(to);
    const Engine engine = parsed(text).engine;
    ASSERT_TRUE(engine.lobes[0].law);
    EXPECT_EQ(*engine.lobes[0].law, law);
    EXPECT_NEAR(engine.lobes[0].law_duration, 290 * kDegree, 1e-12);
  }
}

TEST(Links, ANameThatTellsNoRoleMustStateIt) {
  std::string text = wedge_with("[valve.intake]\nrole = \"intake\"", "[valve.first]");
  expect_one_fault(text, "[valve.first]", {"missing key \"role\" in [valve.first]: one of \"intake\", \"exhaust\""});
  text = replaced(text, "[valve.first]", "[valve.first]\nrole = \"intake\"");
  const Engine engine = parsed(text).engine;
  EXPECT_EQ(engine.valves[0].lobe, "intake") << "the only intake lobe";
  EXPECT_EQ(engine.valves[0].pocket, 0) << "the only pocket on its path";
}

TEST(Links, LobesThatDoNotExistOrDoNotFit) {
  expect_one_fault(wedge_with("role = \"intake\"", "lobe = \"intaek\""), "\"intaek\"",
                   {"valve.intake.lobe: there is no lobe \"intaek\": did you mean \"intake\"?"});
  const std::string crossed = wedge_with("role = \"intake\"", "lobe = \"exhaust\"");
  expect_one_fault(crossed, "\"exhaust\"\nhead_diameter = 2.020",
                   {"lobe \"exhaust\" is not an intake lobe, but the valve is an intake"});
  std::string none = wedge_with("[lobe.exhaust]", "[lobe.intake_b]");
  const auto faults = faults_of(replaced(none, "role = \"intake\"", "lobe = \"intake\""));
  ASSERT_EQ(faults.size(), 1u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], HasSubstr("[valve.exhaust] has no lobe: there is no exhaust lobe"));
  EXPECT_THAT(faults_of(none),
              ::testing::Contains(
                  HasSubstr("missing key \"lobe\" in [valve.intake]: there are 2 intake lobes: intake, intake_b")));
}

TEST(Links, ALobeWithoutAValveIsDoubtful) {
  const std::string text =
      replaced(pent_roof(), "[lobe.exhaust]", "[lobe.intake_b]\nlike = \"intake\"\n[lobe.exhaust]");
  const std::string named = replaced(text, "[valve.intake_front]", "[valve.intake_front]\nlobe = \"intake\"");
  EXPECT_THAT(warnings_of(named), ::testing::ElementsAre(HasSubstr("no valve runs on lobe \"intake_b\"")));
}

TEST(Links, PocketsByNameByPathAndByWord) {
  // By the path: the pockets get names that no valve has.
  const std::string renamed =
      replaced(wedge_with("[pocket.intake]", "[pocket.large]"), "[pocket.exhaust]", "[pocket.small]");
  const Engine engine = parsed(renamed).engine;
  EXPECT_EQ(engine.valves[0].pocket, 0);
  EXPECT_EQ(engine.valves[1].pocket, 1);
  EXPECT_EQ(parsed(renamed, {{"valve.intake.pocket", "none"}}).engine.valves[0].pocket, -1);
  EXPECT_EQ(parsed(renamed, {{"valve.intake.pocket", "small"}}).engine.valves[0].pocket, 1);
  expect_one_fault(replaced(renamed, "role = \"intake\"", "pocket = \"lagre\""), "\"lagre\"",
                   {"valve.intake.pocket: there is no pocket \"lagre\": did you mean \"large\"?"});
}

TEST(Links, AmbiguousOrNoPocketOnThePath) {
  std::string renamed = replaced(wedge_with("[pocket.intake]", "[pocket.large]"), "[pocket.exhaust]", "[pocket.small]");
  const std::string twice = replaced(renamed, "[cam] ", "[pocket.again]\nlike = \"large\"\n[cam] ");
  expect_one_fault(twice, "[valve.intake]", {"missing key \"pocket\" in [valve.intake]", "in each of large, again"});
  const std::string away = replaced(renamed, "y = +0.861", "y = -0.861");
  const auto faults = faults_of(away);
  EXPECT_THAT(faults[0], HasSubstr("in none of the pockets large, small; state one, or \"none\" for the plain crown"));
}

TEST(Links, ACrownWithoutPocketsIsPlain) {
  const auto from = wedge().find("[pocket.intake]"), to = wedge().find("[cam]");
  const Engine engine = parsed(wedge().substr(0, from) + wedge().substr(to)).engine;
  EXPECT_TRUE(engine.piston.pockets.empty());
  EXPECT_EQ(engine.valves[0].pocket, -1);
}

TEST(Links, RockerRatioIsNeededOnlyForLiftsAtTheLobe) {
  const std::string no_ratio = wedge_with("lash = 0.018\n\n[valve.exhaust]", "#\n\n[valve.exhaust]");
  EXPECT_THAT(faults_of(no_ratio), ::testing::ElementsAre(HasSubstr("missing key \"lash\"")));
  const auto at = wedge().find("rocker_ratio = 1.6");
  const std::string without = wedge().substr(0, at) + wedge().substr(at + 18);
  EXPECT_THAT(faults_of(without), ::testing::ElementsAre(HasSubstr("missing key \"rocker_ratio\" in [valve.intake]")));
  EXPECT_EQ(parsed(without, {{"lobe.intake.measured", "valve"}}).engine.valves[0].rocker_ratio, 1);
}

TEST(Asked, WhatIsNotStatedFollowsTheOthers) {
  const AskedValve asked = parsed(wedge()).engine.asked.valve.at(Role::intake);
  EXPECT_EQ(asked.face, asked.travel);
  EXPECT_EQ(asked.reach, asked.travel);
  EXPECT_EQ(asked.closest, asked.radial);
  EXPECT_DOUBLE_EQ(asked.travel, 0.080 * 25.4);
  const AskedValve own =
      parsed(wedge(), {{"asked.intake.face", "0.07"}, {"asked.intake.closest", "0.04"}, {"asked.intake.reach", "0.2"}})
          .engine.asked.valve.at(Role::intake);
  EXPECT_DOUBLE_EQ(own.face, 0.07 * 25.4);
  EXPECT_DOUBLE_EQ(own.closest, 0.04 * 25.4);
  EXPECT_DOUBLE_EQ(own.reach, 0.2 * 25.4);
}

TEST(Asked, ARoleWithoutAValveNeedsNoGaps) {
  const auto from = wedge().find("[valve.exhaust]"), to = wedge().find("[check]");
  const std::string intake_only = wedge().substr(0, from) + wedge().substr(to);
  EXPECT_THAT(warnings_of(intake_only), ::testing::ElementsAre(HasSubstr("no valve runs on lobe \"exhaust\""),
                                                               HasSubstr("[asked.exhaust] is not used")));
  const auto cut = intake_only.find("[asked.exhaust]");
  EXPECT_EQ(parsed(intake_only.substr(0, cut)).engine.asked.valve.size(), 1u);
}

}  // namespace
}  // namespace eyebrow::testing
