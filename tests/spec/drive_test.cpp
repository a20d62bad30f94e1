// [drive], and the stops and teeth of [cam].
#include "eyebrow/timing.hpp"
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// Two cams on the head, invented numbers for the drive.
std::string pent_roof() {
  return file_text(model_path("four_valve_pent_roof"));
}
std::string with_drive(const std::string& table, const std::string& intake = "", const std::string& exhaust = "") {
  std::string text = replaced(pent_roof(), "[cam.intake]", "[drive]\n" + table + "[cam.intake]\n" + intake);
  return replaced(text, "[cam.exhaust]", "[cam.exhaust]\n" + exhaust);
}
const std::string kDrive = "pulley_diameter = 110\nrun_angle = 12\ndeck_cut = 0.2\ngasket_when_timed = 1.1\n";

TEST(CamKeys, StopsAndTeeth) {
  const Engine engine = parsed(with_drive("retimed = true\n", "stops = [-4, \"0.56 rad\"]\nteeth = 40\n")).engine;
  ASSERT_TRUE(engine.cams[0].stops);
  EXPECT_DOUBLE_EQ(engine.cams[0].stops->latest, -4 * kDegree);
  EXPECT_DOUBLE_EQ(engine.cams[0].stops->earliest, 0.56);
  EXPECT_EQ(engine.cams[0].teeth, 40);
  EXPECT_FALSE(engine.cams[1].stops);
  EXPECT_EQ(engine.cams[1].teeth, 0);
  const Engine single = parsed(wedge_with("advance = 0 ", "advance = 2\nstops = [-10, 10]\nteeth = 36 ")).engine;
  EXPECT_DOUBLE_EQ(single.cams[0].stops->earliest, 10 * kDegree);
  EXPECT_EQ(single.cams[0].teeth, 36);
}

TEST(CamKeys, AStopCanBeSet) {
  const std::string text = with_drive("retimed = true\n", "stops = [0, 32]\n");
  EXPECT_DOUBLE_EQ(parsed(text, {{"cam.intake.stops.2", "40"}}).engine.cams[0].stops->earliest, 40 * kDegree);
  EXPECT_EQ(faults_of(text, {{"cam.intake.advance", "32"}}).size(), 0u) << "at the stop itself";
  EXPECT_THAT(faults_of(text, {{"cam.intake.advance", "33"}}),
              ElementsAre("--set: cam.intake.advance is 33 deg, outside of its stops, 0 deg to 32 deg"));
}

TEST(CamKeys, Slips) {
  const auto stops = [](const std::string& list) {
    return wedge_with("advance = 0 ", "advance = 0\nstops = " + list + " ");
  };
  expect_one_fault(stops("[0, 30, 40]"), "[0, 30, 40]",
                   {"cam.stops has 3 items; it takes two, the latest and the earliest advance"});
  expect_one_fault(stops("[30]"), "[30]", {"cam.stops has 1 item;"});
  expect_one_fault(stops("30"), "30 ", {"cam.stops must be a list of numbers, found a number"});
  expect_one_fault(stops("[30, -5]"), "[30, -5]",
                   {"cam.stops goes from 30 deg to -5 deg; the latest comes first", "positive = earlier"});
  expect_one_fault(stops("[5, 5]"), "[5, 5]", {"cam.stops goes from 5 deg to 5 deg"});
  expect_one_fault(stops("[-120, 5]"), "-120", {"cam.stops.1 is -120 deg; allowed is -90 to 90 deg"});
  expect_one_fault(stops("[-5, \"30 mm\"]"), "\"30 mm\"", {"cam.stops.2 must be an angle, found the unit \"mm\""});
  expect_one_fault(stops("[-5, true]"), "true", {"cam.stops.2 must be an angle, found true"});
  expect_one_fault(wedge_with("advance = 0 ", "advance = -6\nstops = [-5, 30] "), "-6\n",
                   {"cam.advance is -6 deg, outside of its stops, -5 deg to 30 deg"});
  const auto teeth = [](const std::string& count) {
    return wedge_with("advance = 0 ", "advance = 0\nteeth = " + count + " ");
  };
  expect_one_fault(teeth("36.5"), "36.5", {"cam.teeth is 36.5; teeth are counted, a whole number"});
  expect_one_fault(teeth("3"), "3 ", {"cam.teeth is 3; allowed is 8 to 300"});
  expect_one_fault(teeth("\"36 deg\""), "\"36 deg\"", {"cam.teeth must be a plain number, found the unit \"deg\""});
  expect_one_fault(wedge_with("advance = 0 ", "advance = 0\nstop = [0, 3] "),
                   "stop =", {"[cam]", "did you mean \"stops\"?"});
}

TEST(Drive, IsReadInMillimetresAndRadians) {
  const Engine engine = parsed(with_drive(kDrive)).engine;
  ASSERT_TRUE(engine.drive);
  EXPECT_DOUBLE_EQ(engine.drive->pulley_diameter, 110);
  EXPECT_DOUBLE_EQ(engine.drive->run_angle, 12 * kDegree);
  EXPECT_DOUBLE_EQ(engine.drive->deck_cut, 0.2);
  EXPECT_DOUBLE_EQ(engine.drive->gasket_when_timed, 1.1);
  EXPECT_FALSE(engine.drive->retimed);
  // Closed form: 0.2 off the deck, gasket 1.1 to 0.9, at 12 degrees, over the pitch radius 55, twice.
  EXPECT_NEAR(drive_retard(engine, engine.cams[1]), 2 * 0.4 * std::cos(12 * kDegree) / 55, 1e-15);
  EXPECT_FALSE(parsed(pent_roof()).engine.drive);
}

TEST(Drive, ByPitchAndTeeth) {
  const std::string table = replaced(kDrive, "pulley_diameter = 110", "pitch = \"0.375 in\"");
  const Engine engine = parsed(with_drive(table, "teeth = 38\n", "teeth = 40\n")).engine;
  // Closed form: a tooth of the cam a pitch.
  EXPECT_NEAR(drive_retard(engine, engine.cams[1]), 0.4 * std::cos(12 * kDegree) / 9.525 * one_tooth(40), 1e-15);
  expect_one_fault(with_drive(table, "teeth = 38\n"), "[cam.exhaust]",
                   {"missing key \"teeth\" in [cam.exhaust]: with drive.pitch"});
  expect_one_fault(with_drive(table, "teeth = 38\n", "teeth = 2\n"), "2\n\nadvance",
                   {"cam.exhaust.teeth is 2; allowed"});
}

TEST(Drive, NoNumberIsReadInVainAndEachIsGuarded) {
  const std::string table = replaced(kDrive, "pulley_diameter = 110", "pitch = 9.525");
  for (const std::string& text :
       {with_drive(table, "teeth = 38\nstops = [-4, 32]\n", "teeth = 40\n"), with_drive(kDrive)}) {
    const EngineFile good = parsed(text);
    for (const auto& [key, origin] : good.origins) {
      if (!key.starts_with("drive.") && !key.starts_with("cam.")) continue;
      const std::string other = key.ends_with("teeth")             ? "30"
                                : key.ends_with("pulley_diameter") ? "111"
                                : key.ends_with("stops.1")         ? "-3"
                                                                   : "2.5";
      EXPECT_NE(dump(parsed(text, {{key, other}}).engine), dump(good.engine)) << key;
      for (const char* bad : {"nan", "1e9", "abc", "3 kg"})
        EXPECT_THAT(faults_of(text, {{key, bad}}), ::testing::Contains(::testing::StartsWith("--set: " + key)))
            << key << " " << bad;
    }
  }
}

TEST(Drive, RetimedNeedsNothingMore) {
  const Engine engine = parsed(with_drive("retimed = true\n")).engine;
  ASSERT_TRUE(engine.drive);
  EXPECT_TRUE(engine.drive->retimed);
  EXPECT_EQ(drive_retard(engine, engine.cams[0]), 0);
  const Engine set = parsed(with_drive(kDrive), {{"drive.retimed", "true"}}).engine;
  EXPECT_EQ(drive_retard(set, set.cams[0]), 0);
  EXPECT_DOUBLE_EQ(set.drive->pulley_diameter, 110);
}

TEST(Drive, AnAngleMilledHeadHasToBeTimedAgain) {
  const std::string cut = "[head.angle_milled]\ndeep = 1\nshallow = 0\nwidth = 150\nbore_from_deep = 75\ntoward = 0\n";
  expect_one_fault(with_drive(kDrive + cut), "[drive]",
                   {"[drive] does not know how far an angle milled head has turned the cam aside", "retimed = true"});
  EXPECT_TRUE(faults_of(with_drive("retimed = true\n" + cut)).empty());
}

TEST(Drive, Slips) {
  const auto drive = [](const std::string& from, const std::string& to) {
    return with_drive(replaced(kDrive, from, to));
  };
  expect_one_fault(drive("pulley_diameter = 110\n", ""), "[drive]",
                   {"missing key \"pulley_diameter\" in [drive] (or pitch): a length"});
  expect_one_fault(drive("run_angle = 12\n", ""), "[drive]", {"missing key \"run_angle\" in [drive]: an angle"});
  expect_one_fault(drive("gasket_when_timed = 1.1\n", ""), "[drive]", {"missing key \"gasket_when_timed\""});
  expect_one_fault(drive("110", "4.33"), "4.33",
                   {"drive.pulley_diameter is 4.33 mm; allowed is 20 to 600 mm", "did you mean 4.33 in?"});
  expect_one_fault(drive("1.1", "0.043"), "0.043", {"did you mean 0.043 in?"});
  expect_one_fault(drive("12", "-12"), "-12", {"drive.run_angle is -12 deg; allowed is 0 to 80 deg"});
  expect_one_fault(drive("0.2", "-0.2"), "-0.2", {"drive.deck_cut is -0.2 mm"});
  expect_one_fault(drive("110\n", "110\npitch = 9.525\n"), "9.525", {"[drive] gives the pulley's size twice"});
  expect_one_fault(drive("run_angle", "run_angel"), "run_angel", {"did you mean \"run_angle\"?"});
  expect_one_fault(drive("110\n", "110\nretimed = 1\n"), "1\nrun_angle",
                   {"drive.retimed must be true or false, found a number"});
  expect_one_fault(drive("110\n", "110\nretimed = \"yes\"\n"), "\"yes\"",
                   {"drive.retimed must be true or false, found the word \"yes\""});
}

}  // namespace
}  // namespace eyebrow::testing
