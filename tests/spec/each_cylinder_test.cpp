// [each_cylinder]: numbers measured cylinder by cylinder. All invented.
#include <fmt/format.h>

#include <random>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::string with_cylinders(const std::string& lists, const std::string& text = wedge()) {
  return text + "\n[each_cylinder]\n" + lists;
}

/// The wedge by its flush lifts alone.
std::string with_flush_lifts() {
  const std::string text =
      wedge_with("rim_height = 0.560          # closed rim plane above the head's deck face\n", "");
  return replaced(text, "rim_height = 0.501\n", "");
}

TEST(EachCylinder, IsEmptyWithoutTheTable) {
  EXPECT_TRUE(parsed(wedge()).cylinders.empty());
}

TEST(EachCylinder, EachHasTheFilesNumbersAndItsOwn) {
  const EngineFile file =
      parsed(with_cylinders("names = [\"1\", \"left rear\", \"3\"]\n"
                            "\"cylinder.deck_clearance\" = [0.004, \"0.15 mm\", -0.002]\n"
                            "\"pocket.intake.depth\" = [0.150, 0.152, \"3 mm\"]\n"));
  EXPECT_EQ(dump(file.engine), dump(parsed(wedge()).engine)) << "the file's own engine is as it was";
  ASSERT_EQ(file.cylinders.size(), 3u);
  EXPECT_EQ(file.cylinders[1].name, "left rear");
  EXPECT_DOUBLE_EQ(file.cylinders[0].engine.cylinder.deck_clearance, 0.004 * 25.4);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.cylinder.deck_clearance, 0.15);
  EXPECT_DOUBLE_EQ(file.cylinders[2].engine.cylinder.deck_clearance, -0.002 * 25.4);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.piston.pockets[0].depth, 0.152 * 25.4);
  EXPECT_DOUBLE_EQ(file.cylinders[2].engine.piston.pockets[0].depth, 3);
  EXPECT_DOUBLE_EQ(file.cylinders[2].engine.cylinder.bore, 4.030 * 25.4);
}

// Each engine is what the same number set from the command line makes of the file.
TEST(EachCylinder, EveryNumberOfEveryModelMayBeListed) {
  int listed = 0;
  for (const std::string& model : kModels) {
    const std::string path = model_path(model), text = file_text(path);
    const EngineFile good = parsed(text);
    if (!good.cylinders.empty()) continue;  // has its lists already
    for (const auto& [key, origin] : good.origins) {
      if (origin.unit.empty()) continue;  // a word, or a ratio
      // Beside another way to state the same a set number is judged against it; a cylinder's takes its place.
      const bool two_ways = key.ends_with("flush_lift") || key.ends_with("rim_height") ||
                            key == "cylinder.block_deck_height" || key == "cylinder.compression_height";
      if (two_ways) continue;
      std::size_t line = 1, at = 0;
      for (; line < static_cast<std::size_t>(origin.line); ++line) at = text.find('\n', at) + 1;
      const double stated = std::stod(text.substr(at + static_cast<std::size_t>(origin.column) - 1));
      const std::string near = fmt::format("{:.17g}", stated == 0 ? 1e-4 : stated * (1 + 5e-5));
      const std::string number = near.find_first_of(".e") == std::string::npos ? near + ".0" : near;
      const EngineFile one = parsed(with_cylinders(fmt::format("names = [\"a\"]\n\"{}\" = [{}]\n", key, number), text));
      ASSERT_EQ(one.cylinders.size(), 1u) << key;
      EXPECT_EQ(dump(one.cylinders[0].engine), dump(parsed(text, {{key, number}}).engine)) << model << " " << key;
      EXPECT_NE(dump(one.cylinders[0].engine), dump(good.engine)) << model << " " << key;
      ++listed;
    }
  }
  EXPECT_GT(listed, 250);
}

TEST(EachCylinder, AKeyThatTheFileDoesNotStateMayBeListed) {
  const EngineFile file =
      parsed(with_cylinders("names = [\"1\", \"2\"]\n\"valve.intake.sunk\" = [0, 0.010]\n"
                            "\"valve.exhaust.lash\" = [0.018, 0.020]\n"));
  EXPECT_EQ(file.cylinders[0].engine.valves[0].sunk, 0);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.valves[0].sunk, 0.254);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.valves[1].lash, 0.020 * 25.4);
}

TEST(EachCylinder, TakesThePlaceOfAnotherWayToStateTheSame) {
  // The wedge states rim heights beside its flush lifts: those of one cylinder count, whatever the file's height is.
  // Closed form: h = f cos g + R sin g.
  const EngineFile file =
      parsed(with_cylinders("names = [\"1\", \"2\"]\n\"valve.intake.flush_lift\" = [0.180, 0.205]\n"));
  const double g = 23 * kDegree, radius = 1.010 * 25.4;
  EXPECT_NEAR(file.cylinders[0].engine.valves[0].rim_height, 0.180 * 25.4 * std::cos(g) + radius * std::sin(g), 1e-12);
  EXPECT_NEAR(file.cylinders[1].engine.valves[0].rim_height, 0.205 * 25.4 * std::cos(g) + radius * std::sin(g), 1e-12);
  EXPECT_DOUBLE_EQ(file.engine.valves[0].rim_height, 0.560 * 25.4);
  // The canted valve engine states its deck clearance by block and piston.
  const std::string canted = file_text(model_path("canted_valve"));
  const EngineFile deck = parsed(with_cylinders("names = [\"1\"]\n\"cylinder.deck_clearance\" = [0.011]\n", canted));
  EXPECT_DOUBLE_EQ(deck.cylinders[0].engine.cylinder.deck_clearance, 0.011 * 25.4);
  EXPECT_EQ(deck.cylinders[0].engine.cylinder.compression_height, deck.engine.cylinder.compression_height)
      << "rock and growth need it";
}

TEST(EachCylinder, BothWaysListedAreCheckedAgainstEachOther) {
  const std::string lists = "names = [\"1\", \"2\"]\n\"valve.intake.rim_height\" = [0.560, 0.562]\n";
  EXPECT_THAT(faults_of(with_cylinders(lists + "\"valve.intake.flush_lift\" = [0.180, 0.182]\n")), IsEmpty());
  const std::string apart = with_cylinders(lists + "\"valve.intake.flush_lift\" = [0.180, 0.215]\n");
  expect_one_fault(apart, "0.215",
                   {"cylinder \"2\": [valve.intake]: rim_height 0.562 in and flush_lift 0.215 in "
                    "disagree"});
}

TEST(EachCylinder, ReachesTheValvesThatAreLikeIt) {
  const EngineFile file =
      parsed(with_cylinders("names = [\"1\", \"2\"]\n\"valve.intake_front.lash\" = [0.20, 0.24]\n"
                            "\"valve.exhaust_rear.lash\" = [0.28, 0.30]\n\"cam.intake.advance\" = [0, 1]\n",
                            pent_roof()));
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.valves[0].lash, 0.24);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.valves[1].lash, 0.24);
  EXPECT_DOUBLE_EQ(file.cylinders[0].engine.valves[2].lash, 0.30);
  EXPECT_DOUBLE_EQ(file.cylinders[0].engine.valves[3].lash, 0.28);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.cams[0].advance, kDegree);
}

TEST(EachCylinder, ASetNumberHoldsForAllAndIsTold) {
  const std::string text = with_cylinders(
      "names = [\"1\", \"2\"]\n\"cylinder.deck_clearance\" = [0.004, 0.006]\n"
      "\"head.milled\" = [0.001, 0.002]\n");
  const EngineFile file = parsed(text, {{"cylinder . deck_clearance", "0.010"}});
  EXPECT_THAT(file.warnings, ElementsAre(::testing::Field(&Fault::message,
                                                          "cylinder . deck_clearance holds for every cylinder: "
                                                          "each_cylinder.\"cylinder.deck_clearance\" is not used")));
  EXPECT_EQ(file.warnings[0].file, "--set");
  for (const MeasuredCylinder& one : file.cylinders) EXPECT_DOUBLE_EQ(one.engine.cylinder.deck_clearance, 0.010 * 25.4);
  EXPECT_DOUBLE_EQ(file.cylinders[1].engine.head.milled, 0.002 * 25.4);

  // By the other way to state it as well.
  const std::string flush =
      with_cylinders("names = [\"1\", \"2\"]\n\"valve.intake.flush_lift\" = [0.180, 0.205]\n", with_flush_lifts());
  const EngineFile set = parsed(flush, {{"valve.intake.flush_lift", "0.190"}});
  EXPECT_EQ(dump(set.cylinders[1].engine), dump(set.engine));
  EXPECT_EQ(set.warnings.size(), 1u);
  // Another number set leaves the lists alone, and tells of no valve that moves but the file's.
  const EngineFile other = parsed(flush, {{"gasket.thickness", "0.05"}});
  EXPECT_TRUE(other.warnings.empty());
  EXPECT_DOUBLE_EQ(other.cylinders[1].engine.gasket.thickness, 0.05 * 25.4);
  EXPECT_NE(other.cylinders[1].engine.valves[0].rim_height, other.engine.valves[0].rim_height);
}

TEST(EachCylinder, BadNumbersAreToldAtTheirOwnPlace) {
  const auto deck = [](const std::string& item) {
    return with_cylinders("names = [\"1\", \"2\"]\n\"cylinder.deck_clearance\" = [0.004, " + item + "]\n");
  };
  expect_one_fault(deck("4.0"), "4.0]", {"cylinder \"2\": cylinder.deck_clearance is 4 in; allowed is -0.3937 to"});
  expect_one_fault(deck("\"0.004 deg\""), "\"0.004 deg\"",
                   {"cylinder \"2\": cylinder.deck_clearance must be a length, found the unit \"deg\""});
  expect_one_fault(deck("\"x\""), "\"x\"", {"\"x\" is not a number"});
  expect_one_fault(deck("true"), "true", {"cylinder.deck_clearance must be a length, found true"});
  expect_one_fault(deck("{ a = 1 }"), "{ a = 1 }", {"cylinder.deck_clearance must be a length, found a table"});
  expect_one_fault(deck("nan"), "nan", {"must be a finite number"});
  // All at once.
  const auto faults =
      faults_of(with_cylinders("names = [\"1\", \"2\"]\n\"cylinder.deck_clearance\" = [4, 5]\n"
                               "\"pocket.intake.depth\" = [0.150, -0.1]\n"));
  EXPECT_EQ(faults.size(), 3u) << ::testing::PrintToString(faults);
}

TEST(EachCylinder, WhatACylindersNumbersMakeWrongOrDoubtfulNamesIt) {
  // The third's rim is wider than its pocket.
  const std::string text = with_cylinders(
      "names = [\"1\", \"2\", \"3\"]\n\"valve.intake.head_diameter\" = [2.02, 2.02, 2.15]\n", with_flush_lifts());
  const auto warnings = warnings_of(text);
  ASSERT_EQ(warnings.size(), 1u) << ::testing::PrintToString(warnings);
  EXPECT_THAT(warnings[0], AllOf(HasSubstr("cylinder \"3\": the rim of valve \"intake\", 2.15 in, cannot enter its "
                                           "pocket")));
  // What is doubtful for the file is told once, not a cylinder.
  const std::string thick =
      with_cylinders("names = [\"1\", \"2\"]\n\"head.milled\" = [0.001, 0.002]\n", wedge_with("0.041", "0.15"));
  EXPECT_THAT(warnings_of(thick), ElementsAre(HasSubstr("gasket.thickness is 0.15 in")));
  // The same for what is wrong.
  const std::string wrong =
      with_cylinders("names = [\"1\", \"2\"]\n\"head.milled\" = [0.001, 0.002]\n", wedge_with("4.030", "-4.030"));
  EXPECT_THAT(faults_of(wrong), ElementsAre(HasSubstr("cylinder.bore is -4.03 in")));
}

TEST(EachCylinder, UnknownKeys) {
  const auto key = [](const std::string& name) {
    return with_cylinders("names = [\"1\", \"2\"]\n" + name + " = [0.004, 0.005]\n");
  };
  expect_one_fault(key("\"cylinder.deck_clearence\""), "\"cylinder.deck_clearence\"",
                   {"unknown key \"cylinder.deck_clearence\" in [each_cylinder]: did you mean "
                    "\"cylinder.deck_clearance\"?"});
  expect_one_fault(key("\"valve.intak.flush_lift\""), "\"valve.intak.flush_lift\"",
                   {"did you mean \"valve.intake.flush_lift\"?"});
  expect_one_fault(key("\"deck_clearance\""), "\"deck_clearance\"", {"unknown key \"deck_clearance\""});
  expect_one_fault(key("\"lobe.intake.durations.6.duration\""), "\"lobe.intake.durations.6.duration\"",
                   {"did you mean \"lobe.intake.durations."});
  expect_one_fault(key("\"valve.intake.lobe\""), "\"valve.intake.lobe\"", {"unknown key \"valve.intake.lobe\""});
  expect_one_fault(key("cylinder.deck_clearance"), "cylinder.deck_clearance", {"put the whole dotted key in quotes"});
  expect_one_fault(key("\"valve\""), "\"valve\"", {"unknown key \"valve\"", "such as \"cylinder.deck_clearance\""});
}

TEST(EachCylinder, NamesAndLengths) {
  const auto lists = [](const std::string& names, const std::string& items) {
    return with_cylinders(names + "\"head.milled\" = " + items + "\n");
  };
  expect_one_fault(lists("names = [\"1\", \"2\"]\n", "[0.001]"), "[0.001]",
                   {"each_cylinder.\"head.milled\" has 1 item, but names has 2: one number a cylinder"});
  expect_one_fault(lists("names = [\"1\"]\n", "[0.001, 0.002]"), "[0.001, 0.002]", {"has 2 items, but names has 1"});
  expect_one_fault(lists("names = [\"1\"]\n", "0.001"), "0.001",
                   {"each_cylinder.\"head.milled\" must be a list of numbers, one a cylinder, found a number"});
  expect_one_fault(lists("", "[0.001]"), "[each_cylinder]", {"missing key \"names\" in [each_cylinder]"});
  expect_one_fault(lists("names = [\"1\", \"1\"]\n", "[0.001, 0.002]"), "\"1\"]",
                   {"each_cylinder.names.2 \"1\" stands twice"});
  expect_one_fault(lists("names = [\"1\", 2]\n", "[0.001, 0.002]"), "2]\n\"head",
                   {"each_cylinder.names.2 must be a word in quotes, found a number"});
  expect_one_fault(lists("names = [\"\"]\n", "[0.001]"), "\"\"]", {"is no name"});
  expect_one_fault(lists("names = []\n", "[]"), "[]\n\"head", {"must be a list of 1 to 24 names, found 0 items"});
  expect_one_fault(lists("names = 4\n", "[0.001]"), "4\n\"head", {"must be a list of 1 to 24 names, found a number"});
  expect_one_fault(with_cylinders("names = [\"1\"]\n"), "[each_cylinder]", {"holds no list of numbers"});
  EXPECT_THAT(faults_of(replaced(wedge(), "units = \"in\"", "units = \"in\"\neach_cylinder = 3")),
              ElementsAre(HasSubstr("each_cylinder must be a table ([each_cylinder]), found a number")));
  const auto many = [&](int count) {
    std::string names, items;
    for (int i = 0; i < count; ++i) names += fmt::format("\"{}\", ", i), items += "0.001, ";
    return lists("names = [" + names + "]\n", "[" + items + "]");
  };
  EXPECT_EQ(parsed(many(24)).cylinders.size(), 24u);
  EXPECT_THAT(faults_of(many(25)), ElementsAre(HasSubstr("must be a list of 1 to 24 names, found 25 items")));
}

// Whatever comes: a reading with as many cylinders as names, or faults that each say something.
TEST(EachCylinder, SpoiltListsAreReadOrRefused) {
  const std::string text = with_cylinders(
      "names = [\"1\", \"2\"]\n\"cylinder.deck_clearance\" = [0.004, \"0.1 mm\"]\n"
      "\"lobe.intake.durations.2.duration\" = [266, 267]\n\"valve.intake.flush_lift\" = [0.180, 0.182]\n");
  const std::size_t from = text.find("[each_cylinder]");
  const std::string signs = "[]{}=\"'#.,\n\\0123456789e-_ \xff" + std::string(1, '\0') + "abxz";
  std::mt19937 random(20260711);
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
  int read = 0, refused = 0;
  for (int round = 0; round < 1500; ++round) {
    std::string spoilt = text;
    const std::size_t at = from + below(text.size() - from);
    if (below(2) == 0)
      spoilt[at] = signs[below(signs.size())];
    else
      spoilt.erase(at, 1 + below(12));
    try {
      const EngineFile file = parse_engine(spoilt, "e.toml");
      for (const MeasuredCylinder& one : file.cylinders) EXPECT_FALSE(one.engine.valves.empty());
      ++read;
    } catch (const InputError& error) {
      EXPECT_FALSE(error.faults().empty());
      for (const Fault& fault : error.faults()) EXPECT_FALSE(fault.message.empty());
      ++refused;
    }
  }
  EXPECT_GT(read, 50);
  EXPECT_GT(refused, 500);
}

TEST(EachCylinder, TheTableItselfCannotBeSet) {
  EXPECT_THAT(faults_of(wedge(), {{"each_cylinder.milled", "3"}}),
              ::testing::Contains(HasSubstr("unknown key \"milled\" in [each_cylinder]")));
}

}  // namespace
}  // namespace eyebrow::testing
