// Keys, words and tables that are unknown, missing or of the wrong type: one message each, at its place.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;

class BadKey : public ::testing::TestWithParam<Slip> {};

TEST_P(BadKey, GetsOneMessageAtItsPlace) {
  expect_one_fault(GetParam());
}

INSTANTIATE_TEST_SUITE_P(
    Unknown, BadKey,
    ::testing::Values(
        Slip{"pin_offset     = 0 ",
             "pin_ofset     = 0 ",
             "pin_ofset",
             {"unknown key \"pin_ofset\" in [cylinder]", "did you mean \"pin_offset\"?"}},
        Slip{"milled = 0", "miled = 0", "miled", {"[head]", "did you mean \"milled\"?"}},
        Slip{"[head]",
             "[heads]\n[head]",
             "heads",
             {"unknown key \"heads\" in the top of the file", "did you mean \"head\"?"}},
        Slip{"[head]", "[zzzzzz]\n[head]", "zzzzzz", {"allowed are name, units, cylinder, gasket"}},
        Slip{"underside         = 0.420",
             "underside = 0.420\nskirt = 2",
             "skirt",
             {"[piston]", "allowed are crown_diameter"}},
        Slip{"depth = 0.150",
             "depth = 0.150\nfloors = \"flat\"",
             "floors",
             {"[pocket.intake]", "did you mean \"floor\"?"}},
        Slip{"lift     = 0.430", "lift = 0.430\nlifts = 1", "lifts", {"[lobe.intake]", "did you mean \"lift\"?"}},
        Slip{"at = 0.020, duration = 287.7",
             "at = 0.020, durations = 3, duration = 287.7",
             "durations = 3",
             {"[lobe.intake.durations.1]", "did you mean \"duration\"?"}},
        Slip{"margin        = 0.055",
             "margin = 0.055\nmarginn = 0.055",
             "marginn",
             {"[valve.intake]", "did you mean \"margin\"?"}},
        Slip{"advance = 0 ", "advance = 0\nadvnce = 0 ", "advnce", {"[cam]", "did you mean \"advance\"?"}},
        Slip{"lash = \"zero\"", "lash = \"zero\"\nlashes = 1", "lashes", {"[check]", "did you mean \"lash\"?"}},
        Slip{
            "[asked.intake]", "[asked.intake]\nradia = 0.05", "radia ", {"[asked.intake]", "did you mean \"radial\"?"}},
        Slip{"piston_to_head = 0.040",
             "piston_to_head = 0.040\nvalve_to_valv = 1",
             "valve_to_valv =",
             {"[asked]", "did you mean \"valve_to_valve\"?"}},
        Slip{"[head]",
             "[cylinder.notch.a]\nx=1\ny=1.8\ndiameter=2\ndepth=0.3\nradius=1\n[head]",
             "radius",
             {"[cylinder.notch.a]", "allowed are x, y, diameter, depth"}},
        Slip{"[pocket.intake]",
             "[piston.dish]\ndiameter=1\ndepth=0.1\nradius=0.1\n[pocket.intake]",
             "radius",
             {"[piston.dish]"}}));

INSTANTIATE_TEST_SUITE_P(
    Missing, BadKey,
    ::testing::Values(
        Slip{"bore           = 4.030\n",
             "",
             "[cylinder]",
             {"missing key \"bore\" in [cylinder]: a length", "in (bores run"}},
        Slip{"stroke         = 3.480\n", "", "[cylinder]", {"missing key \"stroke\""}},
        Slip{"rod_length     = 6.000\n", "", "[cylinder]", {"missing key \"rod_length\""}},
        Slip{"deck_clearance = 0 ",
             "#",
             "[cylinder]",
             {"missing key \"deck_clearance\"", "(or block_deck_height and compression_height)"}},
        Slip{"deck_clearance = 0 ", "block_deck_height = 9 #", "[cylinder]", {"missing key \"compression_height\""}},
        Slip{"deck_clearance = 0 ", "compression_height = 1.2 #", "[cylinder]", {"missing key \"block_deck_height\""}},
        Slip{"thickness = 0.041 ", "#", "[gasket]", {"missing key \"thickness\""}},
        Slip{"crown_diameter    = 4.000", "", "[piston]", {"missing key \"crown_diameter\""}},
        Slip{"y = +0.861\n", "", "[pocket.intake]", {"missing key \"y\""}},
        Slip{
            "diameter = 2.140\n", "", "[pocket.intake]", {"missing key \"diameter\"", "(or arc_chord and arc_height)"}},
        Slip{"diameter = 2.140\n", "arc_chord = 2\n", "[pocket.intake]", {"missing key \"arc_height\""}},
        Slip{"depth = 0.155\n", "", "[pocket.exhaust]", {"missing key \"depth\""}},
        Slip{"lean = 0                    # azimuth that its axis",
             "#",
             "[pocket.intake]",
             {"missing key \"lean\"", "0 = +x, 90 = +y"}},
        Slip{"advance = 0 ", "#", "[cam]", {"missing key \"advance\" in [cam]"}},
        Slip{"centre   = 104", "#", "[lobe.intake]", {"missing key \"centre\""}},
        Slip{"measured = \"lobe\"           #",
             "#",
             "[lobe.intake]",
             {"missing key \"measured\"", "\"lobe\", \"valve\""}},
        Slip{"lift     = 0.430\n", "", "[lobe.intake]", {"missing key \"lift\""}},
        Slip{"margin        = 0.065\n", "", "[valve.exhaust]", {"missing key \"margin\""}},
        Slip{"y = -1.045\n", "", "[valve.exhaust]", {"missing key \"y\""}},
        Slip{"at = 0.200, duration = 182.0",
             "at = 0.200",
             "{ at = 0.200 }",
             {"missing key \"duration\" in [lobe.intake.durations.4]"}},
        Slip{"valve_to_valve = 0.030\n", "", "[asked]", {"missing key \"valve_to_valve\""}},
        Slip{"valve_to_bore  = 0.030\n", "", "[asked]", {"missing key \"valve_to_bore\""}},
        Slip{"piston_to_head = 0.040\n", "", "[asked]", {"missing key \"piston_to_head\""}},
        Slip{"travel = 0.080\n", "", "[asked.intake]", {"missing key \"travel\""}},
        Slip{"travel = 0.120\nradial = 0.050", "travel = 0.120", "[asked.exhaust]", {"missing key \"radial\""}},
        Slip{"[asked.exhaust]\ntravel = 0.120\nradial = 0.050",
             "",
             "[asked]",
             {"missing table [asked.exhaust], which holds travel and radial"}},
        Slip{"[gasket]\nthickness = 0.041           # compressed\nbore      = 4.100\n",
             "",
             "# An invented",
             {"missing table [gasket], which holds thickness and bore"}},
        Slip{"name  = \"two-valve wedge (invented)\"", "", "# An invented", {"missing key \"name\""}}));

INSTANTIATE_TEST_SUITE_P(
    WrongType, BadKey,
    ::testing::Values(
        Slip{"4.030", "true", "", {"cylinder.bore must be a length, found true"}},
        Slip{"4.030", "[4.030]", "", {"cylinder.bore must be a length, found a list"}},
        Slip{"4.030", "1979-05-27", "", {"cylinder.bore must be a length, found a date"}},
        Slip{"4.030", "\"four\"", "", {"cylinder.bore must be a length", "\"four\" is not a number"}},
        Slip{"4.030", "{ value = 4 }", "", {"cylinder.bore must be a length, found a table"}},
        Slip{"rotation       = \"clockwise\"",
             "rotation = 7",
             "7",
             {"cylinder.rotation must be a word, found a number", "clockwise, counterclockwise"}},
        Slip{"\"clockwise\"",
             "\"clokwise\"",
             "",
             {"cylinder.rotation is \"clokwise\"; allowed are clockwise, counterclockwise",
              "did you mean \"clockwise\"?"}},
        Slip{"depth_to = \"sharp edge\"     #",
             "depth_to = \"sharp\" #",
             "\"sharp\"",
             {"pocket.intake.depth_to is \"sharp\"", "deepest, sharp edge, floor centre"}},
        Slip{"measured = \"lobe\"           #",
             "measured = \"cam\" #",
             "\"cam\"",
             {"lobe.intake.measured is \"cam\"; allowed are lobe, valve"}},
        Slip{"lash = \"zero\"", "lash = \"none\"", "\"none\"", {"check.lash is \"none\"; allowed are zero, running"}},
        Slip{"name  = \"two-valve wedge (invented)\"",
             "name = 3",
             "3\nunits",
             {"name must be a word in quotes, found a number"}},
        Slip{"name  = \"two-valve wedge (invented)\"", "name = \"\"", "\"\"", {"name must be a word in quotes"}},
        Slip{"units = \"in\"", "units = \"cm\"", "\"cm\"", {"units is \"cm\"; allowed are mm, in"}},
        Slip{"role = \"exhaust\"",
             "role = \"outlet\"",
             "\"outlet\"",
             {"valve.exhaust.role is \"outlet\"; allowed are intake, exhaust"}},
        Slip{"margin        = 0.055", "margin        = 0.055\nface = \"round\"", "\"round\"", {"flat, dished, domed"}},
        Slip{"[pocket.intake]",
             "[pocket]\nx = 1\n[pocket.intake]",
             "x = 1",
             {"[pocket] holds named tables ([pocket.NAME]), found \"x\", a number"}},
        Slip{"[pocket.intake]",
             "[pocket.\"in.take\"]\nx=0\n[pocket.intake]",
             "\"in.take\"",
             {"the name \"in.take\" is not usable"}}));

TEST(BadKey, TableThatIsANumber) {
  std::string text = wedge();
  text.resize(text.find("[check]"));
  text = replaced(text, "units = \"in\"", "units = \"in\"\nasked = 3\ncheck = \"zero\"");
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 2u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], HasSubstr("e.toml:5:9: asked must be a table ([asked]), found a number"));
  EXPECT_THAT(faults[1], HasSubstr("e.toml:6:9: check must be a table ([check]), found the word \"zero\""));
}

TEST(BadKey, ListsThatAreNot) {
  std::string text = wedge();
  const auto from = text.find("durations = ["), to = text.find("[lobe.exhaust]");
  text = text.substr(0, from) + "durations = 3\n" + text.substr(to);
  auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 2u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], HasSubstr("lobe.intake.durations must be a list of tables, found a number"));
  EXPECT_THAT(faults[1], HasSubstr("lobe.intake.durations has 0 items; allowed are 1 to 5"));
  expect_one_fault(replaced(text, "durations = 3\n",
                            "durations = [ { at = 0.05, duration = 266 }, { at = 0.1, duration = 236 }, 7 ]\n"),
                   "7 ]", {"lobe.intake.durations.3 must be a table in braces, found a number"});
}

TEST(BadKey, TooManyOfANamedTable) {
  std::string text = wedge();
  for (int i = 0; i < 20; ++i)
    text += "\n[pocket.p" + std::to_string(i) + "]\nx=0\ny=0\ntilt=0\ndiameter=0.5\ndepth=0.1";
  expect_one_fault(text, "p14]", {"more than 16 tables [pocket.NAME]"});
}

TEST(BadKey, AllAtOnceInTheOrderOfTheLines) {
  std::string text = wedge_with("bore           = 4.030", "boer = 4.030");
  text = replaced(text, "thickness = 0.041", "thickness = -1");
  text = replaced(text, "lift     = 0.420", "lift = \"3 deg\"");
  text = replaced(text, "lash = \"zero\"", "lash = 0");
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 4u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], HasSubstr("unknown key \"boer\" in [cylinder]: did you mean \"bore\"?"));
  EXPECT_THAT(faults[1], HasSubstr("gasket.thickness is -1 in"));
  EXPECT_THAT(faults[2], HasSubstr("lobe.exhaust.lift must be a length, found the unit \"deg\""));
  EXPECT_THAT(faults[3], HasSubstr("check.lash"));
}

// A key spelt wrong is not also told as missing.
INSTANTIATE_TEST_SUITE_P(
    Misspelt, BadKey,
    ::testing::Values(
        Slip{"rim_height = 0.560          # closed rim plane above the head's deck face\nflush_lift = 0.180",
             "flushlift = 0.180",
             "flushlift",
             {"unknown key \"flushlift\" in [valve.intake]: did you mean \"flush_lift\"?"}},
        Slip{"deck_clearance = 0 ",
             "block_deck_heigth = 9.04\ncompression_height = 1.3 #",
             "block_deck_heigth",
             {"did you mean \"block_deck_height\"?"}},
        Slip{"measured = \"lobe\"           #", "mesured = \"lobe\" #", "mesured", {"did you mean \"measured\"?"}},
        Slip{"[gasket]", "[gaskets]", "gaskets", {"did you mean \"gasket\"?"}},
        Slip{"name  = \"two", "nmae = \"two", "nmae", {"in the top of the file: did you mean \"name\"?"}},
        Slip{"at = 0.200, duration = 182.0",
             "at = 0.200, durations = 182.0",
             "durations = 182.0",
             {"in [lobe.intake.durations.4]: did you mean \"duration\"?"}}));

TEST(BadKey, TwoMissingAndOneMisspelt) {
  const std::string text =
      replaced(wedge_with("stroke         = 3.480\n", ""), "bore           = 4.030", "boer = 4.030");
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 2u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], HasSubstr("missing key \"stroke\""));
  EXPECT_THAT(faults[1], HasSubstr("did you mean \"bore\"?"));
}

TEST(BadKey, NeverMoreThanAHundredMessages) {
  std::string text = wedge() + "\n[check2]\n";
  text = replaced(
      text, "[head]", "[head]\n" + [] {
        std::string many;
        for (int i = 0; i < 500; ++i) many += "k" + std::to_string(i) + " = 1\n";
        return many;
      }());
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 101u);
  EXPECT_THAT(faults.back(), HasSubstr("and 401 more"));
}

TEST(BadKey, EachRequiredKeyOfEachModelIsMissed) {
  // Taking a line out must either be told, naming the key, or leave a key that is known to be optional.
  const std::vector<std::string> optional = {
      "pin_offset", "rotation",    "milled",   "top_land_height",   "ring_groove_depth",
      "underside",  "top_chamfer", "depth_to", "corner_radius",     "role",
      "rim_height", "flush_lift",  "lash",     "block_deck_height", "face"};
  int missed = 0;
  for (const std::string& model : {std::string("two_valve_wedge"), std::string("canted_valve")}) {
    const std::string text = file_text(model_path(model));
    std::size_t from = 0;
    while (from < text.size()) {
      const auto end = std::min(text.find('\n', from), text.size() - 1);
      const std::string line = text.substr(from, end - from + 1);
      const std::string rest = text.substr(0, from) + text.substr(end + 1);
      from = end + 1;
      const std::string key = line.substr(0, line.find(' '));
      if (key.empty() || line.find(" = ") == std::string::npos || line[0] == '#' || line[0] == ' ') continue;
      if (line.find('[') != std::string::npos) continue;  // lists run over lines
      if (std::find(optional.begin(), optional.end(), key) != optional.end()) continue;
      const auto faults = faults_of(rest);
      ASSERT_FALSE(faults.empty()) << model << " without " << line;
      if (key == "units") continue;  // a fault a number
      EXPECT_THAT(::testing::PrintToString(faults), HasSubstr(key == "separation" ? "centre" : key)) << line;
      ++missed;
    }
  }
  EXPECT_GT(missed, 80);
}

}  // namespace
}  // namespace eyebrow::testing
