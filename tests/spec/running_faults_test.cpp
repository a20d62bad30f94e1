// [running] written wrong: one message each, at its place.
#include "spec/running_engine.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;

/// An edit of the wedge with every running table.
struct RunningSlip {
  std::string from, to, at;
  std::vector<std::string> contains;
};
void PrintTo(const RunningSlip& slip, std::ostream* out) {
  *out << '"' << slip.from << "\" -> \"" << slip.to << '"';
}

class BadRunning : public ::testing::TestWithParam<RunningSlip> {};

TEST_P(BadRunning, GetsOneMessageAtItsPlace) {
  const RunningSlip& slip = GetParam();
  expect_one_fault(replaced(running_wedge(), slip.from, slip.to), slip.at, slip.contains);
}

INSTANTIATE_TEST_SUITE_P(
    Units, BadRunning,
    ::testing::Values(
        RunningSlip{"\"650 g\"", "0.65", "0.65", {"piston_mass is 0.65 with no unit", "one of kg, g, lb, oz"}},
        RunningSlip{"\"650 g\"", "\"650 kg\"", "\"650 kg\"", {"is 650 kg; allowed is", "did you mean 650 g?"}},
        RunningSlip{"\"650 g\"", "\"0.65 g\"", "\"0.65 g\"", {"is 0.65 g; allowed is", "did you mean 0.65 kg?"}},
        RunningSlip{"\"650 g\"", "\"450 kg\"", "\"450 kg\"", {"allowed beside a bore of 4.03 in", "check its unit"}},
        RunningSlip{"\"650 g\"", "\"30 lb\"", "\"30 lb\"", {"is 30 lb; allowed beside a bore of 4.03 in"}},
        RunningSlip{"\"650 g\"", "\"650 mm\"", "\"650 mm\"", {"must be a mass, found the unit \"mm\""}},
        RunningSlip{"\"650 g\"", "\"650 gram\"", "\"650 gram\"", {"must be a mass", "allowed are kg, g, lb, oz"}},
        RunningSlip{"\"190 g\"", "\"190 lb\"", "\"190 lb\"", {"small_end_mass is 190 lb; allowed beside"}},
        RunningSlip{"small_end_mass = \"190 g\"", "rod_mass = \"0.6 g\"", "\"0.6 g\"", {"did you mean 0.6 kg?"}},
        RunningSlip{
            "small_end_mass = \"190 g\"", "rod_mass = \"20 kg\"", "\"20 kg\"", {"rods weigh about 0.4 to 1.2 kg"}},
        RunningSlip{"\"0.42 in2\"", "\"0.42 mm2\"", "\"0.42 mm2\"", {"did you mean 0.42 in2?"}},
        RunningSlip{"\"0.42 in2\"", "\"270 in2\"", "\"270 in2\"", {"did you mean 270 mm2?"}},
        RunningSlip{"\"0.42 in2\"", "0.42", "0.42\nmaterial", {"with no unit", "mm2, cm2, in2"}},
        RunningSlip{"\"0.42 in2\"", "\"7 mm2\"", "\"7 mm2\"", {"allowed beside a bore of", "beams have about 200"}},
        RunningSlip{"rpm = 7200", "rpm = \"7200 K\"", "\"7200 K\"", {"must be a plain number, found the unit \"K\""}},
        RunningSlip{"rpm = 7200", "rpm = 72", "72\n", {"rod_stretch.rpm is 72; allowed is 100 to 30000 (revolutions"}},
        RunningSlip{"rpm = 7200", "rpm = 17200", "17200", {"mean piston speed of 50.7 m/s; allowed is to 40"}},
        RunningSlip{"\"75 K\"", "75", "75\n", {"crank_warmer is 75 with no unit", "one of K, C, F"}},
        RunningSlip{"\"144 F\"", "\"1440 F\"", "\"1440 F\"", {"rod_warmer is 1440 F; allowed is 0 to 540 F"}},
        RunningSlip{"\"11.0e-6 /F\"", "11.0e-6", "11.0e-6", {"with no unit", "one of /K, /C, /F"}},
        RunningSlip{"\"11.0e-6 /F\"", "\"11.0 /F\"", "\"11.0 /F\"", {"piston_expansion is 11 /F; allowed is"}},
        RunningSlip{"main = 0.0025", "main = \"0.0025 mm\"", "\"0.0025 mm\"", {"did you mean 0.0025 in?"}},
        RunningSlip{"main = 0.0025", "main = 0.06", "0.06\nbig", {"main is 0.06 in", "did you mean 0.06 mm?"}},
        RunningSlip{"big_end = 0.0022", "big_end = 0.055", "0.055\npin", {"did you mean 0.055 mm?"}},
        RunningSlip{"pin = 0.0010", "pin = \"0.001 mm\"", "\"0.001 mm\"", {"did you mean 0.001 in?"}},
        RunningSlip{
            "skirt_clearance = 0.0040", "skirt_clearance = \"0.004 mm\"", "\"0.004 mm\"", {"did you mean 0.004 in?"}},
        RunningSlip{"skirt_length = 2.00", "skirt_length = 50.8", "50.8", {"did you mean 50.8 mm?"}},
        RunningSlip{"least = 0.039", "least = 0.99", "0.99", {"running.gasket.least", "did you mean 0.99 mm?"}},
        RunningSlip{"play = 0.0018", "play = \"0.0018 mm\"", "\"0.0018 mm\"", {"did you mean 0.0018 in?"}},
        RunningSlip{"guide_length = 2.0\n", "guide_length = 50.8\n", "50.8", {"did you mean 50.8 mm?"}},
        RunningSlip{"overhang = 1.4", "overhang = \"1.4 mm\"", "\"1.4 mm\"", {"did you mean 1.4 in?"}},
        RunningSlip{"sideways = 0.006", "sideways = 0.15", "0.15\n", {"did you mean 0.15 mm?"}},
        RunningSlip{"dip = 0.002", "dip = \"0.0015 mm\"", "\"0.0015 mm\"", {"did you mean 0.0015 in?"}},
        RunningSlip{"late = 4\n", "late = \"4 rad\"\n", "\"4 rad\"", {"did you mean 4 deg?"}},
        RunningSlip{
            "lift = 0.03\n", "lift = 0.75\n", "0.75", {"loft.exhaust.lift is 0.75 in", "did you mean 0.75 mm?"}},
        RunningSlip{"late = 2\n", "late = 25\n", "25\nearly", {"running.chain.late is 25 deg; allowed is 0 to 20 deg"}},
        RunningSlip{"early = 0.5", "early = -1", "-1\n", {"running.chain.early is -1 deg"}},
        RunningSlip{"preload = 0.030", "preload = \"0.03 mm\"", "\"0.03 mm\"", {"did you mean 0.03 in?"}},
        RunningSlip{"travel = 0.020",
                    "travel = \"0.02 mm\"",
                    "\"0.02 mm\"",
                    {"running.asked.intake.travel", "did you mean 0.02 in?"}}));

INSTANTIATE_TEST_SUITE_P(Effects, BadRunning,
                         ::testing::Values(RunningSlip{"[running.pump_up]\npreload = 0.030",
                                                       "[running.pump_up]\nlift = 0.03\npreload = 0.030",
                                                       "0.030\n\n",
                                                       {"running.pump_up.preload is of no use beside lift"}}));

INSTANTIATE_TEST_SUITE_P(
    Keys, BadRunning,
    ::testing::Values(
        RunningSlip{"[running.rock]", "[running.rocks]", "rocks", {"unknown key \"rocks\" in [running]", "\"rock\"?"}},
        RunningSlip{"[running.gasket]",
                    "[running.lash]\n[running.gasket]",
                    "[running.lash]",
                    {"running.lash has nothing to give", "never counted"}},
        RunningSlip{"[running.gasket]",
                    "[running.springs]\n[running.gasket]",
                    "springs",
                    {"unknown key \"springs\" in [running]"}},
        RunningSlip{"rpm = 7200\n", "", "[running.rod_stretch]", {"missing key \"rpm\"", "(or stretch)"}},
        RunningSlip{"rpm = 7200\n", "rmp = 7200\n", "rmp", {"did you mean \"rpm\"?"}},
        RunningSlip{"piston_mass = \"650 g\"\n", "", "[running.rod_stretch]", {"missing key \"piston_mass\"", " lb ("}},
        RunningSlip{"small_end_mass = \"190 g\"\n",
                    "",
                    "[running.rod_stretch]",
                    {"missing key \"small_end_mass\"", "(or rod_mass)"}},
        RunningSlip{"small_end_mass = \"190 g\"",
                    "small_end_mass = \"650 g\"\nrod_mass = \"600 g\"",
                    "\"650 g\"\nrod",
                    {"as much as the whole rod"}},
        RunningSlip{"section = \"0.42 in2\"\n", "", "[running.rod_stretch]", {"missing key \"section\"", " in2 ("}},
        RunningSlip{"material = \"steel\" # rod", "material = \"stel\"", "\"stel\"", {"did you mean \"steel\"?"}},
        RunningSlip{"material = \"steel\" # rod\n",
                    "",
                    "[running.rod_stretch]",
                    {"missing key \"modulus\"", "(or material)", "40 to 400 GPa"}},
        RunningSlip{"material = \"steel\" # rod",
                    "material = \"steel\"\nmodulus = \"200 GPa\"",
                    "\"steel\"\nmodulus",
                    {"running.rod_stretch.material is of no use beside modulus"}},
        RunningSlip{"material = \"steel\" # rod", "modulus = \"207 MPa\"", "\"207 MPa\"", {"did you mean 207 GPa?"}},
        RunningSlip{"source = \"own scale and caliper\"",
                    "source = 3",
                    "3\n\n[running.bearings]",
                    {"running.rod_stretch.source must be a word in quotes"}},
        RunningSlip{"use = false",
                    "use = 0",
                    "0\n\n[running.guides.intake]",
                    {"running.gasket.use must be true or false, found a number"}},
        RunningSlip{"use = false", "use = \"no\"", "\"no\"", {"must be true or false, found the word \"no\""}},
        RunningSlip{"pin = 0.0010\n", "", "[running.bearings]", {"missing key \"pin\" in [running.bearings]"}},
        RunningSlip{"main = 0.0025\n", "", "[running.bearings]", {"missing key \"main\""}},
        RunningSlip{"big_end = 0.0022\n", "", "[running.bearings]", {"missing key \"big_end\""}},
        RunningSlip{"crank_warmer = \"75 K\"\n", "", "[running.growth]", {"missing key \"crank_warmer\""}},
        RunningSlip{"rod_warmer = \"144 F\"\n", "", "[running.growth]", {"missing key \"rod_warmer\"", "(or growth)"}},
        RunningSlip{"rod_material = \"steel\"\n",
                    "",
                    "[running.growth]",
                    {"missing key \"rod_expansion\"", "(or rod_material)"}},
        RunningSlip{"rod_material = \"steel\"",
                    "rod_material = \"iron\"",
                    "\"iron\"\npiston",
                    {"rod_material is \"iron\"; allowed are steel, aluminium"}},
        RunningSlip{"block_material = \"iron\"",
                    "block_material = \"steel\"",
                    "\"steel\"\n\n[running.rock]",
                    {"allowed are iron, aluminium"}},
        RunningSlip{"piston_warmer = \"150 C\"\n", "", "[running.growth]", {"missing key \"piston_warmer\""}},
        RunningSlip{"block_warmer = \"70 K\"\n", "", "[running.growth]", {"missing key \"block_warmer\""}},
        RunningSlip{"skirt_clearance = 0.0040\n",
                    "",
                    "[running.rock]",
                    {"missing key \"skirt_clearance\"", "(or angle and shift)"}},
        RunningSlip{"skirt_length = 2.00\n", "", "[running.rock]", {"missing key \"skirt_length\""}},
        RunningSlip{"skirt_clearance = 0.0040\nskirt_length = 2.00",
                    "angle = 0.1",
                    "[running.rock]",
                    {"missing key \"shift\""}},
        RunningSlip{"least = 0.039\n", "", "[running.gasket]", {"missing key \"least\""}},
        RunningSlip{
            "play = 0.0018\n", "", "[running.guides.intake]", {"missing key \"play\"", "(or sideways and dip)"}},
        RunningSlip{"dip = 0.002\n", "", "[running.guides.exhaust]", {"missing key \"dip\""}},
        RunningSlip{"overhang = 1.4\n", "", "[running.guides.intake]", {"missing key \"overhang\""}},
        RunningSlip{"[running.guides.intake]",
                    "[running.guides.inlet]",
                    "inlet",
                    {"unknown key \"inlet\" in [running.guides]"}},
        RunningSlip{"[running.loft.intake]\nlate = 4",
                    "[running.loft.intake]\nuse = true",
                    "[running.loft.intake]",
                    {"[running.loft.intake] needs late, lift or both"}},
        RunningSlip{"late = 2\n", "", "[running.chain]", {"missing key \"late\" in [running.chain]"}},
        RunningSlip{"preload = 0.030\n", "", "[running.pump_up]", {"missing key \"preload\"", "(or lift)"}},
        RunningSlip{"radial = 0.016\n", "", "[running.asked.intake]", {"missing key \"radial\""}},
        RunningSlip{"[running.asked.exhaust]",
                    "[running.asked.exaust]",
                    "exaust",
                    {"unknown key \"exaust\" in [running.asked]", "\"exhaust\"?"}}));

INSTANTIATE_TEST_SUITE_P(
    Disagree, BadRunning,
    ::testing::Values(
        RunningSlip{
            "least = 0.039", "least = 0.045", "0.045", {"least is 0.045 in, more than gasket.thickness, 0.041"}},
        RunningSlip{"skirt_clearance = 0.0040",
                    "skirt_clearance = \"1 mm\"",
                    "\"1 mm\"",
                    {"skirt_clearance is 0.0393701 in; allowed beside a bore of 4.03 in is to 0.03224 in"}},
        RunningSlip{"skirt_clearance = 0.0040", "skirt_clearance = 0.05", "0.05\nskirt", {"did you mean 0.05 mm?"}},
        RunningSlip{"skirt_length = 2.00",
                    "skirt_length = 0.5",
                    "0.5\n\n[running.gasket]",
                    {"skirt_length is 0.5 in; allowed beside a bore of 4.03 in is 0.806 in to 8.06 in"}},
        RunningSlip{"play = 0.0018",
                    "play = \"0.6 mm\"",
                    "\"0.6 mm\"",
                    {"running.guides.intake.play is 0.023622 in; allowed beside the stem of valve \"intake\", 0.3415 "
                     "in, is to 0.02049 in",
                     "about twice the play"}},
        RunningSlip{"guide_length = 2.0\n",
                    "guide_length = 0.4\n",
                    "0.4\noverhang",
                    {"allowed beside the stem of valve \"intake\", 0.3415 in, is 0.683 in and more"}}));

TEST(RunningFaults, EffectBesideWhatItIsComputedFrom) {
  expect_one_fault(replaced(running_wedge(), "rpm = 7200", "stretch = 0.004\nrpm = 7200"), "7200",
                   {"running.rod_stretch.rpm is of no use beside stretch", "give the effect itself, or"});
  expect_one_fault(replaced(running_wedge(), "crank_warmer", "growth = 0.01\ncrank_warmer"), "\"75 K\"",
                   {"running.growth.crank_warmer is of no use beside growth"});
  expect_one_fault(replaced(running_wedge(), "sideways = 0.006", "sideways = 0.006\nplay = 0.002"), "0.002\ndip",
                   {"running.guides.exhaust.play is of no use beside sideways"});
}

TEST(RunningFaults, TablesThatNeedTheHeightsOfTheBlock) {
  for (const char* table :
       {"[running.rock]\nskirt_clearance = 0.004\nskirt_length = 2\n", "[running.rock]\nangle = 0.1\nshift = 0.002\n"})
    expect_one_fault(wedge() + table, "[running.rock]",
                     {"[running.rock] needs cylinder.compression_height", "beside deck_clearance"});
  expect_one_fault(wedge() +
                       "[running.growth]\ncrank_warmer = \"70 K\"\nrod_warmer = \"70 K\"\nrod_material = \"steel\"\n"
                       "piston_warmer = \"150 K\"\npiston_material = \"aluminium\"\nblock_warmer = \"70 K\"\n"
                       "block_material = \"iron\"\n",
                   "[running.growth]", {"[running.growth] needs cylinder.block_deck_height"});
  EXPECT_THAT(faults_of(wedge() + "[running.growth]\ngrowth = 0.004\n"), ::testing::IsEmpty());
}

TEST(RunningFaults, AHeightThatLeavesNoRoomForThePiston) {
  expect_one_fault(replaced(running_wedge(), "compression_height = 1.26", "block_deck_height = 7.8"), "7.8",
                   {"compression_height is 0.06 in; allowed is", "from block_deck_height 7.8 in, deck_clearance 0 in"});
}

TEST(RunningFaults, PreloadNeedsTheRatioThatCarriesItToTheValve) {
  std::string text = replaced(running_wedge(),
                              "[lobe.intake]\ncentre   = 104              # crank degrees ATDC, cam "
                              "unmoved\nmeasured = \"lobe\" ",
                              "[lobe.intake]\ncentre = 104\nmeasured = \"valve\" ");
  text = replaced(text,
                  "flush_lift = 0.180          # both are given here, so they are checked against each other\n"
                  "rocker_ratio = 1.6\n",
                  "flush_lift = 0.180\n");
  expect_one_fault(text, "[running.pump_up]", {"[running.pump_up] needs valve.intake.rocker_ratio", "(1 = direct)"});
}

TEST(RunningFaults, RoleTablesThatAreEmpty) {
  expect_one_fault(wedge() + "[running.guides]\n", "[running.guides]", {"[running.guides.intake]"});
}

// Whatever comes: a reading or faults with a place in the file.
TEST(RunningFaults, SpoiltFilesAreReadOrRefused) {
  const std::string text = running_wedge();
  const std::size_t begin = text.find("[running.rod_stretch]");
  const auto try_one = [](const std::string& spoilt, const std::vector<Override>& overrides) {
    try {
      parse_engine(spoilt, "e.toml", overrides);
    } catch (const InputError& error) {
      EXPECT_FALSE(error.faults().empty());
      return 1;
    }
    return 0;
  };
  int refused = 0;
  for (std::size_t size = begin; size < text.size(); size += 3) refused += try_one(text.substr(0, size), {});
  EXPECT_GT(refused, 100);
  const EngineFile good = parsed(text);
  refused = 0;
  for (const auto& [key, origin] : good.origins) {
    if (key.rfind("running.", 0) != 0) continue;
    for (const char* value : {"0", "-1", "1e308", "nan", "x", "true", "3 mm", "1e308 kg", "\xff", "1 /K"})
      refused += try_one(text, {{key, value}});
    refused += try_one(text, {{key + ".more", "1"}});
    refused += try_one(text, {{key.substr(0, key.rfind('.')), "1"}});  // a number in place of the table
  }
  EXPECT_GT(refused, 300);
}

TEST(RunningFaults, AreToldAllAtOnce) {
  std::string text = replaced(running_wedge(), "main = 0.0025", "main = 0.06");
  text = replaced(text, "\"650 g\"", "0.65");
  text = replaced(text, "preload = 0.030", "preload = -1");
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 3u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], HasSubstr("piston_mass"));
  EXPECT_THAT(faults[1], HasSubstr("running.bearings.main"));
  EXPECT_THAT(faults[2], HasSubstr("running.pump_up.preload"));
}

}  // namespace
}  // namespace eyebrow::testing
