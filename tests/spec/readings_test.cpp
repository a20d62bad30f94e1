// Numbers with the error of their reading, and numbers moved. All invented.
#include "eyebrow/reading.hpp"

#include <map>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

Origin bore_of(const std::string& value) {
  return parsed(wedge_with("4.030", value)).origins.at("cylinder.bore");
}

TEST(Readings, KeepsValueAndErrorBesideThePlace) {
  const EngineFile plain = parsed(wedge());
  const Origin& bore = plain.origins.at("cylinder.bore");
  EXPECT_EQ(bore.value, plain.engine.cylinder.bore);
  EXPECT_EQ(bore.error, 0);
  EXPECT_TRUE(std::isnan(plain.origins.at("cylinder.rotation").value)) << "a word";
  EXPECT_EQ(plain.origins.at("lobe.intake.centre").value, 104 * kDegree);
  EXPECT_EQ(plain.origins.at("valve.intake.rocker_ratio").value, 1.6);
}

// The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
TEST(Readings, InEveryUnitAndForm) {
  for (const char* value :
       {"\"4.030 in \u00b1 0.005\"", "\"4.030 \u00b1 0.005\"", "\"4.030 in +- 0.005 in\"", "\"4.030 +/- 0.005 in\"",
        "\"4.030 in \u00b1 0.127 mm\"", "\"102.362 mm \u00b1 0.005 in\"", "\"102.362 mm \u00b1 0.127\""}) {
    const EngineFile file = parsed(wedge_with("4.030", value));
    EXPECT_DOUBLE_EQ(file.engine.cylinder.bore, 4.030 * 25.4) << value;
    EXPECT_DOUBLE_EQ(file.origins.at("cylinder.bore").value, 4.030 * 25.4) << value;
    EXPECT_DOUBLE_EQ(file.origins.at("cylinder.bore").error, 5 * kThou) << value;
  }
  EXPECT_EQ(bore_of("\"102.362 mm \u00b1 0.005 in\"").unit, "mm") << "the number's own";
  EXPECT_EQ(bore_of("\"4.030 \u00b1 0\"").error, 0);

  const EngineFile other = parsed(wedge_with("centre   = 110", "centre = \"110 deg \u00b1 0.5\""),
                                  {{"valve.intake.rocker_ratio", "1.6 \u00b1 0.02"}, {"cam.advance", "0 +- 1"}});
  EXPECT_DOUBLE_EQ(other.origins.at("lobe.exhaust.centre").error, 0.5 * kDegree);
  EXPECT_DOUBLE_EQ(other.origins.at("valve.intake.rocker_ratio").error, 0.02);
  EXPECT_DOUBLE_EQ(other.origins.at("cam.advance").error, 1 * kDegree);
  EXPECT_DOUBLE_EQ(other.engine.valves[0].rocker_ratio, 1.6);
  const std::string loaded = file_text(model_path("two_valve_wedge_at_speed"));
  const EngineFile heavy = parsed(loaded, {{"running.rod_stretch.piston_mass", "650 \u00b1 5 g"}});
  EXPECT_DOUBLE_EQ(heavy.origins.at("running.rod_stretch.piston_mass").error, 0.005) << "kg";
}

TEST(Readings, WhereOnlyTheErrorHasAUnit) {
  // A file in mm: nobody can tell whether 0.56 is mm or inches.
  expect_one_fault(replaced(pent_roof(), "bore           = 86", "bore = \"86 \u00b1 0.001 in\""),
                   "\"86 \u00b1 0.001 in\"",
                   {"cylinder.bore is \"86 \u00b1 0.001 in\", whose unit stands behind the error alone, and a bare "
                    "number is in mm here: write a unit behind the number too"});
  expect_one_fault(wedge_with("centre   = 110", "centre = \"110 \u00b1 0.01 rad\""), "\"110 \u00b1 0.01 rad\"",
                   {"a bare number is in deg here"});
}

TEST(Readings, ItemsOfLists) {
  const std::string phased = file_text(model_path("four_valve_pent_roof_phased"));
  const EngineFile file = parsed(replaced(phased, "[0, 32]", "[0, \"32 \u00b1 0.5\"]"),
                                 {{"lobe.intake.durations.2.duration", "230 deg +- 1"}});
  EXPECT_DOUBLE_EQ(file.origins.at("cam.intake.stops.2").error, 0.5 * kDegree);
  EXPECT_EQ(file.origins.at("cam.intake.stops.1").error, 0);
  EXPECT_DOUBLE_EQ(file.engine.cams[0].stops->earliest, 32 * kDegree);
  EXPECT_DOUBLE_EQ(file.origins.at("lobe.intake.durations.2.duration").error, 1 * kDegree);
}

std::string events(const std::string& opens, const std::string& closes) {
  const std::string text = wedge();
  const auto from = text.find("durations", text.find("[lobe.intake]")), to = text.find("[lobe.exhaust]");
  return text.substr(0, from) + "events = [ { at = 0.050, opens = " + opens + ", closes = " + closes + " } ]\n\n" +
         text.substr(to);
}

TEST(Readings, SidedNumbers) {
  for (const char* opens :
       {"\"29 BTDC \u00b1 1\"", "\"29 BTDC \u00b1 1 deg\"", "\"29 \u00b1 1 BTDC\"", "\"29 \u00b1 1\""}) {
    const EngineFile file = parsed(events(opens, "\"57 ABDC +- 0.5\""));
    EXPECT_DOUBLE_EQ(file.origins.at("lobe.intake.events.1.opens").value, 29 * kDegree) << opens;
    EXPECT_DOUBLE_EQ(file.origins.at("lobe.intake.events.1.opens").error, 1 * kDegree) << opens;
    EXPECT_DOUBLE_EQ(file.origins.at("lobe.intake.events.1.closes").error, 0.5 * kDegree) << opens;
    EXPECT_DOUBLE_EQ(file.engine.lobes[0].durations[0].duration, 266 * kDegree) << opens;
  }
  const Origin after = parsed(events("\"5 ATDC \u00b1 1\"", "\"57 ABDC\"")).origins.at("lobe.intake.events.1.opens");
  EXPECT_DOUBLE_EQ(after.value, -5 * kDegree);
  EXPECT_DOUBLE_EQ(after.error, 1 * kDegree);
  expect_one_fault(events("\"29 BTDC \u00b1 1 BTDC\"", "57"), "\"29 BTDC \u00b1 1 BTDC\"",
                   {"behind its \u00b1, \"1 BTDC\" has no unit that is known here"});
  expect_one_fault(events("\"29 BBDC \u00b1 1\"", "57"), "\"29 BBDC \u00b1 1\"",
                   {"after its number may stand BTDC or ATDC"});
}

class BadReading : public ::testing::TestWithParam<Slip> {};

INSTANTIATE_TEST_SUITE_P(
    All, BadReading,
    ::testing::Values(
        Slip{"4.030",
             "\"4.030 \u00b1 -0.005\"",
             "",
             {"cylinder.bore has a reading error of -0.005 in; it is a half-width"}},
        Slip{"4.030", "\"4.030 \u00b1 nan\"", "", {"cylinder.bore has a reading error of nan in; it is a half-width"}},
        Slip{"4.030", "\"4.030 \u00b1 inf\"", "", {"a reading error of inf in"}},
        Slip{"4.030", "\"4.030 \u00b1 a bit\"", "", {"behind its \u00b1, \"a bit\" is not a number"}},
        Slip{"4.030", "\"4.030 \u00b1 0.005 \u00b1 0.001\"", "", {"has two \u00b1; a reading has one error"}},
        Slip{"4.030", "\"4.030 in \u00b1\"", "", {"has nothing behind its \u00b1"}},
        Slip{"4.030", "\"\u00b1 0.005\"", "", {"has no number before its \u00b1"}},
        Slip{"4.030",
             "\"4.030 in \u00b1 1 deg\"",
             "",
             {"cylinder.bore must be a length, and its reading error too: found the unit \"deg\" behind the \u00b1"}},
        Slip{"4.030", "\"4.030 \u00b1 1 deg\"", "", {"found the unit \"deg\" behind the \u00b1"}},
        Slip{"centre   = 110",
             "centre = \"110 deg \u00b1 1 mm\"",
             "\"110 deg \u00b1 1 mm\"",
             {"lobe.exhaust.centre must be an angle, and its reading error too"}},
        // out of the plausible range at one end
        Slip{"4.030",
             "\"0.48 in \u00b1 0.01\"",
             "",
             {"cylinder.bore less its reading error is 0.47 in; allowed is 0.4724 to 27.56 in"}},
        Slip{"tilt = 23\nlean = 0                    # azimuth that its",
             "tilt = \"59.5 \u00b1 1\"\nlean = 0 #",
             "\"59.5 \u00b1 1\"",
             {"pocket.intake.tilt plus its reading error is 60.5 deg; allowed is 0 to 60 deg"}},
        Slip{"milled = 0 ",
             "milled = \"0 \u00b1 0.001\" ",
             "\"0 \u00b1 0.001\"",
             {"head.milled less its reading error is -0.001 in", "the reading error is larger than the number itself"}},
        Slip{"4.030", "\"4.030 \u00b1 5\"", "", {"is -0.97 in", "the reading error is larger than the number itself"}},
        Slip{"\"clockwise\"",
             "\"clockwise \u00b1 1\"",
             "",
             {"cylinder.rotation is \"clockwise \u00b1 1\"; allowed are"}}));

TEST_P(BadReading, GetsOneMessageAtItsPlace) {
  expect_one_fault(GetParam());
}

TEST(Readings, WhatIsCountedHasNone) {
  const std::string phased = file_text(model_path("four_valve_pent_roof_phased"));
  EXPECT_THAT(faults_of(phased, {{"cam.intake.teeth", "42 \u00b1 1"}}),
              ElementsAre("--set: cam.intake.teeth is counted, not measured: it has no reading error"));
  EXPECT_THAT(faults_of(phased, {{"cam.intake.teeth", "42 \u00b1 0"}}), IsEmpty());
}

TEST(Readings, EachCylinderMayHaveItsOwn) {
  const EngineFile file = parsed(wedge() +
                                 "\n[each_cylinder]\nnames = [\"1\", \"2\"]\n"
                                 "\"cylinder.deck_clearance\" = [0.004, \"0.15 mm \u00b1 0.01\"]\n");
  ASSERT_EQ(file.cylinders.size(), 2u);
  EXPECT_EQ(file.origins.at("cylinder.deck_clearance").error, 0);
  EXPECT_EQ(file.cylinders[0].origins.at("cylinder.deck_clearance").error, 0);
  EXPECT_DOUBLE_EQ(file.cylinders[1].origins.at("cylinder.deck_clearance").error, 0.01);
  EXPECT_DOUBLE_EQ(file.cylinders[1].origins.at("cylinder.deck_clearance").value, 0.15);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.cylinder.deck_clearance, 0.15);
  EXPECT_THAT(faults_of(wedge() +
                        "\n[each_cylinder]\nnames = [\"1\"]\n\"cylinder.deck_clearance\" = [\"0.15 mm \u00b1 -1\"]\n"),
              ElementsAre(HasSubstr("cylinder \"1\": cylinder.deck_clearance has a reading error of -1 mm")));
}

TEST(Readings, ListsEachOnceWithThoseThatAreLikeIt) {
  std::string text = replaced(pent_roof(), "margin        = 1.1", "margin = \"1.1 \u00b1 0.05\"");
  text = replaced(text, "rim_height = 5.823", "rim_height = \"5.823 mm \u00b1 0.002 in\"");
  const EngineFile file = parsed(text, {{"cylinder.bore", "3.4 in \u00b1 0.1 mm"}});
  EXPECT_DOUBLE_EQ(file.origins.at("valve.intake_rear.margin").error, 0.05) << "like the front one";
  EXPECT_EQ(file.origins.at("valve.intake_rear.margin").taken_from, "valve.intake_front.margin");
  EXPECT_EQ(file.origins.at("valve.intake_rear.y").taken_from, "");
  const std::vector<Reading> all = readings(file.origins);
  ASSERT_EQ(all.size(), 3u);
  EXPECT_EQ(all[0].key, "cylinder.bore");
  EXPECT_EQ(all[0].unit, "in");
  EXPECT_DOUBLE_EQ(all[0].value, 86.36);
  EXPECT_DOUBLE_EQ(all[0].error, 0.1);
  EXPECT_DOUBLE_EQ(all[0].value_in_unit, 3.4);
  EXPECT_DOUBLE_EQ(all[0].error_in_unit, 0.1 / 25.4);
  EXPECT_THAT(all[0].also, IsEmpty());
  EXPECT_EQ(all[1].key, "valve.exhaust_front.rim_height");
  EXPECT_DOUBLE_EQ(all[1].error_in_unit, 0.0508);
  EXPECT_THAT(all[1].also, ElementsAre("valve.exhaust_rear.rim_height"));
  EXPECT_EQ(all[2].key, "valve.intake_front.margin");
  EXPECT_THAT(all[2].also, ElementsAre("valve.intake_rear.margin"));
  EXPECT_THAT(readings(parsed(wedge()).origins), IsEmpty());
}

TEST(Readings, ThroughAChainOfLikesAndIntoLists) {
  std::string text = replaced(pent_roof(), "[lobe.exhaust]",
                              "[lobe.two]\nlike = \"intake\"\nrole = \"intake\"\n[lobe.three]\nlike = \"two\"\nrole = "
                              "\"intake\"\n[lobe.exhaust]");
  text = replaced(text, "[valve.intake_front]", "[valve.intake_front]\nlobe = \"intake\"");
  const EngineFile file = parsed(text, {{"lobe.intake.durations.2.duration", "230 \u00b1 1"}});
  EXPECT_EQ(file.origins.at("lobe.three.durations.2.duration").taken_from, "lobe.intake.durations.2.duration");
  EXPECT_THAT(readings(file.origins).at(0).also,
              ElementsAre("lobe.three.durations.2.duration", "lobe.two.durations.2.duration"));
  const EngineFile apart = parsed(text, {{"lobe.two.durations.2.duration", "231 \u00b1 1"}});
  EXPECT_EQ(apart.origins.at("lobe.two.durations.2.duration").taken_from, "") << "set there";
  EXPECT_EQ(apart.origins.at("lobe.two.durations.1.duration").taken_from, "lobe.intake.durations.1.duration");
}

std::map<std::string, double> values_of(const EngineFile& file) {
  std::map<std::string, double> values;
  for (const auto& [key, origin] : file.origins)
    if (!std::isnan(origin.value)) values[key] = origin.value;
  return values;
}

/// Both a rim height and a flush lift, by `like`: a table that states one as its own does not take the other.
bool two_ways_by_like(const EngineFile& file, const std::string& key) {
  const std::string table = key.substr(0, key.rfind('.') + 1), leaf = key.substr(table.size());
  return (leaf == "rim_height" || leaf == "flush_lift") && !file.origins.at(key).taken_from.empty() &&
         file.origins.count(table + "rim_height") && file.origins.count(table + "flush_lift");
}

/// How many numbers it tried.
int try_every_number(const std::string& text, const std::string& name) {
  const EngineFile good = parse_engine(text, name);
  const std::string before = dump(good.engine);
  int tried = 0;
  for (const auto& [key, origin] : good.origins) {
    if (std::isnan(origin.value) || two_ways_by_like(good, key)) continue;
    ++tried;
    const EngineFile same = parse_engine(text, name, {moved(key, origin, 0)});
    EXPECT_EQ(dump(same.engine), before) << name << " " << key << " " << moved(key, origin, 0).value;
    EXPECT_EQ(values_of(same), values_of(good)) << name << " " << key;
    EXPECT_EQ(same.origins.at(key).unit, origin.unit) << name << " " << key;
    if (key.ends_with(".teeth")) continue;  // counted
    // Some stand on the end of what they may be: they move one way.
    bool moves = false;
    for (const double sign : {1.0, -1.0}) {
      const double by = sign * 1e-7 * std::fmax(1e-3, std::fabs(origin.value));
      EngineFile near;
      try {
        near = parse_engine(text, name, {moved(key, origin, by)});
      } catch (const InputError&) {
        continue;
      }
      moves = true;
      EXPECT_NEAR(near.origins.at(key).value, origin.value + by, 1e-12 * std::fabs(origin.value + by))
          << name << " " << key;
      break;
    }
    EXPECT_TRUE(moves) << name << " " << key;
  }
  return tried;
}

TEST(Moved, EveryNumberOfEveryModelReadsBack) {
  int tried = 0;
  for (const std::string& model : kAllModels)
    tried += try_every_number(file_text(model_path(model)), model_path(model));
  tried += try_every_number(starter_file(), "starter.toml");
  EXPECT_GT(tried, 800);
}

TEST(Moved, EventsMassesFractionsAndBothUnits) {
  EXPECT_GT(try_every_number(events("\"29 BTDC\"", "\"57 ABDC\""), "e.toml"), 70);
  EXPECT_GT(try_every_number(events("\"0.3 ATDC\"", "\"57 deg\""), "e.toml"), 70);
  EXPECT_GT(try_every_number(wedge_with("4.030", "\"4-1/32 in\""), "e.toml"), 70);
  EXPECT_GT(try_every_number(wedge_with("4.030", "\"102.3671 mm\""), "e.toml"), 70);
  EXPECT_GT(try_every_number(wedge_with("centre   = 110", "centre = \"1.92 rad\""), "e.toml"), 70);
}

TEST(Moved, WritesTheNumberInItsOwnUnitAndCrossesZero) {
  const EngineFile file = parsed(events("\"0.5 ATDC \u00b1 1\"", "57"), {{"cylinder.bore", "102.3 mm \u00b1 0.1"}});
  EXPECT_EQ(moved("cylinder.bore", file.origins.at("cylinder.bore"), 0.25).value, "102.55 mm");
  EXPECT_EQ(moved("gasket.thickness", file.origins.at("gasket.thickness"), 0).value, "0.041 in");
  EXPECT_EQ(moved("valve.intake.rocker_ratio", file.origins.at("valve.intake.rocker_ratio"), 0).value, "1.6");
  const std::string opens = "lobe.intake.events.1.opens";
  const Origin& origin = file.origins.at(opens);
  for (const double by : {-1.0, 1.0}) {
    const EngineFile there = parsed(events("\"0.5 ATDC \u00b1 1\"", "57"), {moved(opens, origin, by * kDegree)});
    EXPECT_NEAR(there.origins.at(opens).value, (-0.5 + by) * kDegree, 1e-15);
  }
  EXPECT_THROW(moved("cylinder.rotation", file.origins.at("cylinder.rotation"), 0), std::logic_error);
}

TEST(Moved, TakesTheNumbersThatAreLikeIt) {
  const EngineFile file = parsed(pent_roof());
  const EngineFile there =
      parsed(pent_roof(), {moved("valve.intake_front.lash", file.origins.at("valve.intake_front.lash"), 0.05)});
  EXPECT_DOUBLE_EQ(there.engine.valves[0].lash, 0.25);
  EXPECT_DOUBLE_EQ(there.engine.valves[1].lash, 0.25);
}

}  // namespace
}  // namespace eyebrow::testing
