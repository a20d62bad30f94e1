// Numbers that are good by themselves and that no engine has side by side; the figures are common practice.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// The wedge without the rim heights, so that its flush lifts count alone.
std::string by_flush_lift() {
  const std::string text =
      wedge_with("rim_height = 0.560          # closed rim plane above the head's deck face\n", "");
  return replaced(text, "rim_height = 0.501\n", "");
}

class NoEngine : public ::testing::TestWithParam<Slip> {};
TEST_P(NoEngine, GetsOneMessageAtItsPlace) {
  expect_one_fault(GetParam());
}

INSTANTIATE_TEST_SUITE_P(
    Proportions, NoEngine,
    ::testing::Values(
        Slip{"6.000",
             "60.00",
             "",
             {"cylinder.rod_length 60 in is 17.2 times the stroke, 3.48 in", "allowed is at most 8",
              "rods run from 1.3 to 3 strokes", "common practice"}},
        Slip{"stroke         = 3.480\nrod_length     = 6.000",
             "stroke = 17\nrod_length = 36",
             "17\nrod",
             {"cylinder.stroke 17 in is 4.22 times the bore, 4.03 in; allowed is 0.2 to 4 times"}},
        Slip{"4.000", "3.000", "", {"piston.crown_diameter 3 in is 0.744 times the bore", "allowed is at least 0.8"}},
        Slip{"lift     = 0.430",
             "lift = 4",
             "4\ndurations",
             {"lobe.intake.lift 4 in is 3.17 times the head's diameter of valve \"intake\" over its rocker_ratio 1.6",
              "allowed is at most 1"}},
        Slip{"margin        = 0.055",
             "margin = 0.55",
             "0.55\nseat",
             {"valve.intake.margin 0.55 in is 0.272 times the head's diameter, 2.02 in; allowed is at most 0.25"}},
        Slip{"lash = 0.018\n\n[valve.exhaust]",
             "lash = 0.18\n\n[valve.exhaust]",
             "0.18\n",
             {"valve.intake.lash 0.18 in is 0.262 times the valve's greatest lift, 0.688 in; allowed is at most 0.2"}},
        Slip{"y = +0.855",
             "y = +2.855",
             "+2.855",
             {"valve.intake: the centre of its closed rim lies 2.8", "outside the bore, which ends at 2.015 in"}}));

TEST(Unusual, IsDoubtedAtItsPlace) {
  EXPECT_THAT(warnings_of(wedge_with("6.000", "12.00")),
              ElementsAre(AllOf(HasSubstr("e.toml:9:18: cylinder.rod_length 12 in is 3.45 times the stroke"),
                                HasSubstr("rods run from 1.3 to 3 strokes (common practice): check"))));
  EXPECT_THAT(warnings_of(wedge_with("margin        = 0.055", "margin = 0.3")),
              ElementsAre(HasSubstr("valve.intake.margin 0.3 in is 0.149 times the head's diameter")));
  EXPECT_THAT(warnings_of(wedge_with("4.000", "3.900")), ElementsAre(HasSubstr("crowns are about 0.99 of the bore")));
  EXPECT_THAT(warnings_of(wedge_with("lash = 0.018\n\n[valve.exhaust]", "lash = 0.09\n\n[valve.exhaust]")),
              ElementsAre(HasSubstr("valve.intake.lash 0.09 in is 0.131 times the valve's greatest lift")));
}

TEST(Unusual, ThickGasket) {
  EXPECT_THAT(warnings_of(wedge_with("0.041", "0.15")),
              ElementsAre(AllOf(HasSubstr("e.toml:15:13: gasket.thickness is 0.15 in; usual is 0.02 in to 0.08 in"),
                                HasSubstr("common practice"), HasSubstr("compressed"))));
  EXPECT_THAT(warnings_of(wedge_with("0.041", "0.115")), IsEmpty());
}

TEST(Unusual, FarDeckClearance) {
  for (const char* clearance : {"0.2 ", "-0.101 "})
    EXPECT_THAT(warnings_of(wedge_with("deck_clearance = 0 ", std::string("deck_clearance = ") + clearance)),
                ::testing::Contains(AllOf(HasSubstr("e.toml:12:18: deck clearance is"), HasSubstr("check its sign"))));
  EXPECT_THAT(warnings_of(wedge_with("deck_clearance = 0 ", "deck_clearance = -0.09 ")), IsEmpty());
  EXPECT_THAT(warnings_of(wedge_with("deck_clearance = 0 ", "block_deck_height = 9.2\ncompression_height = 1.3\n#")),
              ::testing::Contains(
                  HasSubstr("e.toml:12:21: deck clearance is 0.16 in from block_deck_height and compression_height")));
}

TEST(Unusual, APocketThatLeansTheOtherWay) {
  const std::string lean = "lean = 0                    # azimuth that its axis leans toward";
  EXPECT_THAT(warnings_of(wedge_with(lean, "lean = 180 # azimuth that its axis leans toward")),
              ::testing::Contains(AllOf(
                  HasSubstr("e.toml:31:8: the axis of pocket.intake stands 46 degrees off that of valve \"intake\""),
                  HasSubstr("check tilt and lean of both"))));
  EXPECT_THAT(warnings_of(wedge_with(lean, "lean = 20 # azimuth that its axis leans toward")), IsEmpty());
}

TEST(Unusual, AFlushLiftAboveTheLift) {
  // 0.43 in at the lobe, rocker ratio 1.6: 0.688 in at the valve.
  EXPECT_THAT(
      warnings_of(replaced(by_flush_lift(), "flush_lift = 0.180", "flush_lift = 0.70")),
      ::testing::Contains(AllOf(HasSubstr("valve.intake.flush_lift is 0.7 in, more than the valve's greatest lift, "
                                          "0.688 in"),
                                HasSubstr("check the reading"))));
  EXPECT_THAT(warnings_of(replaced(by_flush_lift(), "flush_lift = 0.180", "flush_lift = 0.68")),
              ::testing::Not(::testing::Contains(HasSubstr("greatest lift"))));
  // The height that the same flush lift makes: 0.7 cos 23 + 1.01 sin 23.
  const std::string text = replaced(by_flush_lift(), "flush_lift = 0.180", "rim_height = 1.039");
  EXPECT_THAT(warnings_of(text),
              ::testing::Contains(HasSubstr("valve.intake.rim_height 1.039 in makes the flush lift 0.7")));
}

TEST(Unusual, ExchangedPockets) {
  const std::string exchanged = replaced(wedge_with("role = \"intake\"", "role = \"intake\"\npocket = \"exhaust\""),
                                         "role = \"exhaust\"", "role = \"exhaust\"\npocket = \"intake\"");
  const auto warnings = warnings_of(exchanged);
  EXPECT_THAT(warnings, ::testing::Contains(AllOf(
                            HasSubstr("valve \"intake\" runs over pocket \"exhaust\", but at TDC its axis "
                                      "meets the crown flat 1.9"),
                            HasSubstr("from pocket \"intake\""), HasSubstr("check for exchanged valves or pockets"))));
  EXPECT_THAT(warnings, ::testing::Contains(HasSubstr("valve \"exhaust\" runs over pocket \"intake\", but at TDC")));
  // Valves measured with the head on its back: y is mirrored.
  const std::string mirrored = replaced(wedge_with("y = +0.855", "y = -0.855"), "y = -1.045", "y = +1.045");
  EXPECT_THAT(warnings_of(mirrored), ::testing::Contains(HasSubstr("signs of x and y")));
}

TEST(Unusual, ACornerThatLeavesNoPocket) {
  // A floor 0.150 in deep at its sharp edge, tilt 23: the corner c takes c (cos 23 + sin 23 - 1) of it (closed form).
  expect_one_fault(wedge_with("depth = 0.150", "depth = 0.150\ncorner_radius = 0.47"), "0.47",
                   {"pocket.intake.corner_radius: 0.47 in leaves next to nothing of the pocket",
                    "0.00371909 in below the crown flat; allowed is at least 0.00787402 in below it"});
  expect_one_fault(wedge_with("depth = 0.150", "depth = 0.150\ncorner_radius = 0.9"), "0.9\n",
                   {"in above the crown flat"});
  EXPECT_THAT(faults_of(wedge_with("depth = 0.150", "depth = 0.150\ncorner_radius = 0.44")), IsEmpty());
}

TEST(Held, TheFlushLiftWhenSetMovesTheRim) {
  // h = f cos g + R sin g: 0.04 in more diameter lift the plane by 0.02 sin 23 = 0.0078146 in (closed form).
  const auto warnings = warnings_of(by_flush_lift(), {{"valve.intake.head_diameter", "2.06"}});
  ASSERT_EQ(warnings.size(), 1u) << ::testing::PrintToString(warnings);
  EXPECT_THAT(
      warnings[0],
      AllOf(::testing::StartsWith("--set: valve.intake.head_diameter: valve.intake.flush_lift is held at 0.18 in"),
            HasSubstr("moves from 0.560329 in to 0.568144 in"),
            HasSubstr("in the file in place of valve.intake.flush_lift")));
  EXPECT_THAT(warnings_of(by_flush_lift(), {{"valve.intake.tilt", "24"}}),
              ElementsAre(HasSubstr("valve.intake.tilt: valve.intake.flush_lift is held")));
}

TEST(Held, TheHeightWhenThatIsStated) {
  std::string text =
      wedge_with("flush_lift = 0.180          # both are given here, so they are checked against each other\n", "");
  text = replaced(text, "flush_lift = 0.205\n", "");
  const auto warnings = warnings_of(text, {{"valve.exhaust.head_diameter", "1.64"}});
  ASSERT_EQ(warnings.size(), 1u) << ::testing::PrintToString(warnings);
  EXPECT_THAT(warnings[0],
              AllOf(HasSubstr("valve.exhaust.rim_height is held at 0.501 in, so the flush lift moves from"),
                    HasSubstr("in the file in place of valve.exhaust.rim_height")));
}

TEST(Held, NothingIsToldWhereNothingMoves) {
  EXPECT_THAT(warnings_of(by_flush_lift(), {{"valve.intake.lash", "0.02"}, {"gasket.thickness", "0.05"}}), IsEmpty());
  EXPECT_THAT(warnings_of(by_flush_lift(), {{"valve.intake.flush_lift", "0.19"}}), IsEmpty()) << "it is set itself";
  EXPECT_THAT(warnings_of(by_flush_lift(), {{"valve.intake.head_diameter", "2.02"}}), IsEmpty()) << "the same";
}

TEST(Held, AValveThatIsLikeAnotherMovesToo) {
  std::string text = file_text(model_path("four_valve_pent_roof"));
  text = replaced(text, "rim_height = 5.945          # closed rim plane above the head's deck face\n", "");
  const auto warnings = warnings_of(text, {{"valve.intake_front.head_diameter", "35"}});
  ASSERT_EQ(warnings.size(), 2u) << ::testing::PrintToString(warnings);
  EXPECT_THAT(warnings[1], HasSubstr("valve.intake_rear.flush_lift is held at 1.6 mm"));
}

}  // namespace
}  // namespace eyebrow::testing
