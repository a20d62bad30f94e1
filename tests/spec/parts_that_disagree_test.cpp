// Numbers that are good by themselves and impossible together.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

class Disagreement : public ::testing::TestWithParam<Slip> {};

TEST_P(Disagreement, GetsOneMessageAtItsPlace) {
  expect_one_fault(GetParam());
}

INSTANTIATE_TEST_SUITE_P(
    Cylinder, Disagreement,
    ::testing::Values(
        Slip{"6.000",
             "1.740",
             "",
             {"rod_length 1.74 in cannot pass", "longer than half the stroke plus the pin offset, 1.74 in"}},
        Slip{"stroke         = 3.480\nrod_length     = 6.000\npin_offset     = 0 ",
             "stroke = 3.480\nrod_length = 1.9\npin_offset = -0.2 ",
             "1.9\n",
             {"rod_length 1.9 in cannot pass", "1.94 in"}},
        Slip{"4.000", "4.030", "", {"piston.crown_diameter 4.03 in does not go into the bore, 4.03 in"}},
        Slip{"4.000", "4.1", "", {"piston.crown_diameter 4.1 in does not go into the bore"}},
        Slip{"deck_clearance = 0          #",
             "deck_clearance = 0\nblock_deck_height = 9.025\ncompression_height = 1.275 #",
             "0\nblock",
             {"deck_clearance is 0 in, but block_deck_height 9.025 in - pin at its highest 7.74 in (rod_length 6 in, "
              "half the stroke 1.74 in, pin_offset 0 in) - compression_height 1.275 in = 0.01 in"}},
        Slip{"deck_clearance = 0          #",
             "block_deck_height = 9.9\ncompression_height = 0.5 #",
             "9.9",
             {"deck clearance is 1.66 in; allowed is", "block_deck_height 9.9 in - pin at its highest 7.74 in"}}));

INSTANTIATE_TEST_SUITE_P(
    Piston, Disagreement,
    ::testing::Values(
        Slip{"[pocket.intake]",
             "[piston.dish]\ndiameter = 1\ndepth = 0.1\ncorner_radius = 0.2\n[pocket.intake]",
             "0.2\n[",
             {"piston.dish.corner_radius: 0.2 in does not fit", "0.1 in"}},
        Slip{"[pocket.intake]",
             "[piston.dish]\ndiameter = 3.9\ndepth = 0.1\nx = 0.1\n[pocket.intake]",
             "3.9",
             {"the dish reaches 2.05 in from the bore axis; the crown ends at 2 in"}},
        Slip{"[pocket.intake]",
             "[piston.dish]\ndiameter = 1\ndepth = 0.42\n[pocket.intake]",
             "0.42\n[",
             {"the dish is 0.42 in deep and goes through the crown's underside at 0.42 in"}},
        Slip{"[pocket.intake]",
             "[piston.dome]\nshape = \"sphere\"\nheight = 0.6\nbase_diameter = 1\n[pocket.intake]",
             "0.6\n",
             {"more than half a ball"}},
        Slip{"[pocket.intake]",
             "[piston.dome]\nshape = \"sphere\"\nheight = 0.1\nbase_diameter = 4.01\n[pocket.intake]",
             "4.01",
             {"the dome's base 4.01 in is wider than the crown, 4 in"}},
        Slip{"[pocket.intake]",
             "[piston.dome]\nshape = \"sphere\"\nheight = 0.1\nbase_diameter = 3\ntop_diameter = 1\n[pocket.intake]",
             "1\n[",
             {"a sphere has no top_diameter"}},
        Slip{"[pocket.intake]",
             "[piston.dome]\nshape = \"cone\"\nheight = 0.1\nbase_diameter = 3\n[pocket.intake]",
             "[piston.dome]",
             {"missing key \"top_diameter\""}},
        Slip{"[pocket.intake]",
             "[piston.dome]\nshape = \"cone\"\nheight = 0.1\nbase_diameter = 3\ntop_diameter = 3\n[pocket.intake]",
             "3\n[",
             {"must be less than its base_diameter 3 in"}},
        Slip{"[pocket.intake]",
             "[piston.dome]\nheight = 0.1\nbase_diameter = 3\n[pocket.intake]",
             "[piston.dome]",
             {"missing key \"shape\"", "\"sphere\", \"cone\""}},
        Slip{"[pocket.intake]",
             "[piston.roof]\nplateau = 0.1\n[pocket.intake]",
             "[piston.roof]",
             {"[piston.roof] needs planes, 1 to 8"}},
        Slip{"[pocket.intake]",
             "[piston.roof]\nplateau = 0.1\nplanes = []\n[pocket.intake]",
             "[]",
             {"[piston.roof] needs planes, 1 to 8"}},
        Slip{"[pocket.intake]",
             "[piston.roof]\nplateau = 0.1\nplanes = [ { slope = 90, toward = 0, meets = 1 } ]\n[pocket.intake]",
             "90, toward",
             {"piston.roof.planes.1.slope is 90 deg; allowed is 1 to 80 deg"}}));

TEST(Disagreement, DomeAndRoofTogether) {
  const std::string text =
      wedge_with("[pocket.intake]",
                 "[piston.dome]\nshape = \"sphere\"\nheight = 0.1\nbase_diameter = 3\n"
                 "[piston.roof]\nplateau = 0.1\nplanes = [ { slope = 9, toward = 0, meets = 1 } ]\n[pocket.intake]");
  expect_one_fault(text, "[piston.roof]", {"a crown has one of them"});
}

INSTANTIATE_TEST_SUITE_P(
    Pocket, Disagreement,
    ::testing::Values(
        Slip{"depth = 0.150",
             "depth = 0.150\ncorner_radius = 1.1",
             "1.1",
             {"pocket.intake.corner_radius: 1.1 in does not fit", "half the diameter, 1.07 in"}},
        Slip{"x = -0.155 ", "x = 3.9 ", "3.9", {"[pocket.intake] misses the crown", "the crown ends at 2 in"}},
        Slip{"depth = 0.150",
             "depth = 0.420",
             "0.420\ndepth",
             {"[pocket.intake] goes through the crown: its deepest point is 0.42 in below the crown flat, the "
              "underside 0.42 in"}},
        Slip{"diameter = 2.140", "diameter = 2.140\narc_chord = 2", "2.140", {"[pocket.intake] gives its width twice"}},
        Slip{"tilt = 23\nlean = 0                    # azimuth that its",
             "tilt = 23\nlean = 0\ntilt_xz = 3 # azimuth that its",
             "3 # az",
             {"[pocket.intake] gives its tilt twice: either tilt and lean, or tilt_xz and tilt_yz"}},
        Slip{"diameter = 2.140",
             "arc_chord = 12\narc_height = 0.1",
             "0.1\ndepth",
             {"[pocket.intake]: the diameter from arc_chord and arc_height is 360.1 in; allowed is"}},
        Slip{"[pocket.intake]",
             "[pocket.none]\nx = 0\ny = 0\ntilt = 0\ndiameter = 0.5\ndepth = 0.1\n[pocket.intake]",
             "[pocket.none]",
             {"cannot be named \"none\""}}));

TEST(Disagreement, ADeepPocketBeyondTheCrownsEdgeIsNotThroughIt) {
  // With its low edge off the crown the deepest point lies in the air.
  const std::string text = wedge_with("underside         = 0.420", "underside = 0.150");
  EXPECT_EQ(faults_of(text).size(), 2u) << "both pockets reach 0.150 within the crown";
  EXPECT_THAT(faults_of(replaced(replaced(text, "x = -0.155 ", "x = 1.2 "), "x = -0.130", "x = 1.4")),
              ::testing::Not(::testing::Contains(HasSubstr("goes through"))));
}

INSTANTIATE_TEST_SUITE_P(
    Valve, Disagreement,
    ::testing::Values(
        Slip{"flush_lift = 0.180 ",
             "flush_lift = 0.200 ",
             "0.200 ",
             {"[valve.intake]: rim_height 0.56 in and flush_lift 0.2 in disagree: at a tilt of 23 deg the flush lift "
              "makes the height 0.578739 in",
              "they agree at 21.75 deg"}},
        Slip{"rim_height = 0.560 ", "rim_height = 2.560 ", "0.180 ", {"no tilt from 0 to 60 deg makes them agree"}},
        Slip{"tilt = 23\nlean = 0                    # azimuth that the stem",
             "tilt = 21\nlean = 0 # azimuth that the stem",
             "0.180 ",
             {"at a tilt of 21 deg", "they agree at 22.98 deg"}},
        Slip{"seat_width    = 0.1818",
             "seat_width = 1.3",
             "1.3",
             {"valve.intake.seat_width: 1.3 in reaches into the stem; allowed is less than 1.18"}},
        Slip{"stem_diameter = 0.3415\nx = +0.100                  #",
             "stem_diameter = 2.1\nx = +0.100 #",
             "2.1",
             {"valve.intake.stem_diameter is 2.1 in; it must be less than head_diameter, 2.02 in"}},
        Slip{"margin        = 0.055",
             "margin = 0.055\nrim_radius = 0.06",
             "0.06\n",
             {"valve.intake.rim_radius: 0.06 in does not fit into the margin, 0.055 in"}},
        Slip{"margin        = 0.055",
             "margin = 0.055\nface_depth = 0.06",
             "0.06\n",
             {"valve.intake.face_depth is of use with face = \"dished\" or \"domed\" only"}},
        Slip{"margin        = 0.055",
             "margin = 0.055\nface = \"dished\"",
             "[valve.intake]",
             {"missing key \"face_depth\""}},
        Slip{"margin        = 0.055",
             "margin = 0.055\nface = \"domed\"\nface_depth = 1.2",
             "1.2\n",
             {"more than half a ball"}}));

TEST(Disagreement, ValveLargerThanTheBore) {
  std::string text =
      wedge_with("flush_lift = 0.180          # both are given here, so they are checked against each other\n", "");
  text = replaced(text, "head_diameter = 2.020", "head_diameter = 4.030");
  expect_one_fault(text, "4.030\nmargin", {"valve.intake.head_diameter 4.03 in does not go into the bore, 4.03 in"});
}

TEST(Doubt, AGoodModelRaisesNone) {
  for (const std::string& model : kModels) EXPECT_THAT(warnings_of(file_text(model_path(model))), IsEmpty()) << model;
}

TEST(Doubt, GasketSmallerThanTheBore) {
  EXPECT_THAT(warnings_of(wedge_with("bore      = 4.100", "bore      = 4.02")),
              ElementsAre(HasSubstr("e.toml:16:13: gasket.bore 4.02 in is smaller than the bore, 4.03 in")));
}

TEST(Doubt, RimThatCannotEnterItsPocket) {
  EXPECT_THAT(
      warnings_of(wedge_with("diameter = 2.140", "diameter = 2.020")),
      ElementsAre(HasSubstr(
          "e.toml:32:12: the rim of valve \"intake\", 2.02 in, cannot enter its pocket \"intake\", 2.02 in wide")));
}

TEST(Doubt, PocketBesideTheValvesPath) {
  // 0.08 in off along the crankshaft: more than the 0.06 in that the pocket is wider all round.
  EXPECT_THAT(warnings_of(wedge_with("y = +0.861", "y = +0.935")),
              ElementsAre(HasSubstr("square to them they are 0.08")));
  EXPECT_THAT(warnings_of(wedge_with("y = +0.861", "y = +0.910")), IsEmpty());
}

TEST(Doubt, NotchThatDoesNotCutTheBore) {
  const auto notch = [](const char* y) {
    return wedge_with("[gasket]",
                      std::string("[cylinder.notch.a]\nx = 0\ny = ") + y + "\ndiameter = 1\ndepth = 0.3\n[gasket]");
  };
  EXPECT_THAT(faults_of(notch("1.0")), ElementsAre(HasSubstr("[cylinder.notch.a] does not cut the bore wall, 2.015 in "
                                                             "from the bore's axis: its own axis is 1 in from that")));
  EXPECT_THAT(faults_of(notch("3.0")), ElementsAre(HasSubstr("does not cut the bore wall")));
  EXPECT_THAT(warnings_of(notch("1.8")), IsEmpty());
  EXPECT_EQ(parsed(notch("1.8")).engine.cylinder.notches.size(), 1u);
}

TEST(Doubt, TwoValvesOverOnePocket) {
  const std::string text = wedge_with("role = \"exhaust\"", "role = \"exhaust\"\npocket = \"intake\"");
  EXPECT_THAT(warnings_of(text),
              ::testing::Contains(HasSubstr("valves \"intake\" and \"exhaust\" both run over pocket \"intake\"")));
}

}  // namespace
}  // namespace eyebrow::testing
