// [tolerance]: what it says of each number, and its slips. All invented.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using Shape = Tolerance::Shape;

std::string with(const std::string& entries, const std::string& text = wedge()) {
  return text + "\n[tolerance]\n" + entries;
}

std::vector<Tolerance> read(const std::string& entries, const std::vector<Override>& overrides = {}) {
  return parsed(with(entries), overrides).tolerances;
}

Tolerance one(const std::string& entry, const std::vector<Override>& overrides = {}) {
  const auto all = read(entry, overrides);
  EXPECT_EQ(all.size(), 1u) << entry;
  return all.empty() ? Tolerance{} : all.front();
}

TEST(Tolerances, NoneAndEmpty) {
  EXPECT_THAT(parsed(wedge()).tolerances, IsEmpty());
  EXPECT_THAT(read(""), IsEmpty());
  EXPECT_EQ(dump(parsed(with("\"gasket.thickness\" = \"\u00b1 0.002 in\"\n")).engine), dump(parsed(wedge()).engine))
      << "the engine itself is the same";
}

// Closed form: the meaning of each shape as tolerance.hpp states it.
TEST(Tolerances, EachShape) {
  const Tolerance uniform = one("\"gasket.thickness\" = \"\u00b1 0.002 in\"\n");
  EXPECT_EQ(uniform.key, "gasket.thickness");
  EXPECT_EQ(uniform.shape, Shape::uniform);
  EXPECT_DOUBLE_EQ(uniform.plus_minus, 2 * kThou);
  EXPECT_EQ(uniform.deviation, 0);
  EXPECT_DOUBLE_EQ(uniform.worst(), 2 * kThou);
  EXPECT_EQ(uniform.shared, "");

  const Tolerance triangular = one("\"cylinder.deck_clearance\" = { plus_minus = 0.003, shape = \"triangular\" }\n");
  EXPECT_EQ(triangular.shape, Shape::triangular);
  EXPECT_DOUBLE_EQ(triangular.plus_minus, 3 * kThou);
  EXPECT_EQ(triangular.deviation, 0);

  const Tolerance endless = one("\"valve.intake.rim_height\" = { deviation = \"0.02 mm\" }\n");
  EXPECT_EQ(endless.shape, Shape::normal);
  EXPECT_EQ(endless.plus_minus, 0);
  EXPECT_DOUBLE_EQ(endless.deviation, 0.02);
  EXPECT_DOUBLE_EQ(endless.worst(), 0.06);

  const Tolerance cut = one("\"valve.intake.rim_height\" = { plus_minus = \"0.06 mm\", shape = \"normal\" }\n");
  EXPECT_EQ(cut.shape, Shape::normal);
  EXPECT_DOUBLE_EQ(cut.plus_minus, 0.06);
  EXPECT_DOUBLE_EQ(cut.deviation, 0.02);
  EXPECT_DOUBLE_EQ(cut.worst(), 0.06);
}

TEST(Tolerances, UnitsAndSigns) {
  EXPECT_DOUBLE_EQ(one("\"gasket.thickness\" = \"+- 0.002\"\n").plus_minus, 2 * kThou);
  EXPECT_DOUBLE_EQ(one("\"gasket.thickness\" = \"+/-0.05mm\"\n").plus_minus, 0.05);
  EXPECT_DOUBLE_EQ(one("\"lobe.intake.centre\" = \"\u00b1 1\"\n").plus_minus, 1 * kDegree);
  EXPECT_DOUBLE_EQ(one("\"lobe.intake.centre\" = \"\u00b1 0.01 rad\"\n").plus_minus, 0.01);
  EXPECT_DOUBLE_EQ(one("\"valve.intake.rocker_ratio\" = \"\u00b1 0.02\"\n").plus_minus, 0.02);
  EXPECT_DOUBLE_EQ(one("\"lobe.intake.durations.2.duration\" = \"\u00b1 0.5\"\n").plus_minus, 0.5 * kDegree);
  EXPECT_EQ(one("\"gasket.thickness\" = \"\u00b1 0\"\n").worst(), 0);
  // A number that is given in mm in a file in inches: a bare tolerance is in inches, as any bare number.
  EXPECT_DOUBLE_EQ(parsed(with("\"gasket.thickness\" = \"\u00b1 0.002\"\n", wedge_with("0.041", "\"1.04 mm\"")))
                       .tolerances.at(0)
                       .plus_minus,
                   2 * kThou);
}

TEST(Tolerances, SharedNames) {
  const std::string head =
      "\"valve.intake.rim_height\" = { deviation = \"0.02 mm\", shared = \"head casting\" }\n"
      "\"valve.exhaust.rim_height\" = { deviation = \"0.02 mm\", shared = \"head casting\" }\n";
  const auto all = read(head);
  ASSERT_EQ(all.size(), 2u);
  EXPECT_EQ(all[0].key, "valve.intake.rim_height") << "in the order of the file";
  EXPECT_EQ(all[0].shared, "head casting");
  EXPECT_EQ(all[1].shared, "head casting");
  EXPECT_THAT(warnings_of(with(head)), IsEmpty());
  const std::string slip = with(replaced(head, "mm\", shared = \"head casting\" }\n\"valve.exhaust",
                                         "mm\", shared = \"head casing\" }\n\"valve.exhaust"));
  EXPECT_THAT(warnings_of(slip), ElementsAre(HasSubstr("valve.intake.rim_height.shared: no other tolerance shares "
                                                       "\"head casing\""),
                                             HasSubstr("shares \"head casting\"")));
}

// gasket.thickness without quotes is a table in a table.
TEST(Tolerances, KeysInQuotesOrNot) {
  const std::string quoted =
      "\"gasket.thickness\" = \"\u00b1 0.002 in\"\n"
      "\"valve.intake.rim_height\" = { deviation = \"0.02 mm\" }\n\"lobe.intake.durations.2.duration\" = \"\u00b1 "
      "1\"\n";
  const auto want = read(quoted);
  ASSERT_EQ(want.size(), 3u);
  for (const std::string& entries :
       {std::string("gasket.thickness = \"\u00b1 0.002 in\"\nvalve.intake.rim_height = { deviation = \"0.02 mm\" }\n"
                    "lobe.intake.durations.2.duration = \"\u00b1 1\"\n"),
        std::string("gasket.thickness = \"\u00b1 0.002 in\"\nvalve.intake.rim_height.deviation = \"0.02 mm\"\n"
                    "lobe.intake.durations.2.duration.plus_minus = 1\n"),
        std::string("\"gasket.thickness\".plus_minus = \"\u00b1 0.002 in\"\n"
                    "[tolerance.valve.intake]\nrim_height = { deviation = \"0.02 mm\" }\n"
                    "[tolerance.\"lobe.intake.durations.2.duration\"]\nplus_minus = \"1 deg\"\n")}) {
    if (entries.find(".plus_minus = \"\u00b1") != std::string::npos) {
      EXPECT_THAT(faults_of(with(entries)), ElementsAre(HasSubstr("has no number before its \u00b1"))) << entries;
      continue;
    }
    const auto found = read(entries);
    ASSERT_EQ(found.size(), want.size()) << entries;
    for (std::size_t i = 0; i < want.size(); ++i) {
      EXPECT_EQ(found[i].key, want[i].key);
      EXPECT_EQ(found[i].shape, want[i].shape);
      EXPECT_EQ(found[i].plus_minus, want[i].plus_minus);
      EXPECT_EQ(found[i].deviation, want[i].deviation);
    }
  }
  EXPECT_EQ(parsed(with("cam.intake.stops.2 = \"\u00b1 1\"\n", file_text(model_path("four_valve_pent_roof_phased"))))
                .tolerances.at(0)
                .key,
            "cam.intake.stops.2");
  EXPECT_THAT(faults_of(with("gasket.thickness = \"\u00b1 0.002\"\n\"gasket.thickness\" = \"\u00b1 0.001\"\n")),
              ElementsAre(HasSubstr("tolerance.gasket.thickness stands twice")));
}

TEST(Tolerances, FromTheCommandLine) {
  const auto half = [](const std::string& entries, const std::vector<Override>& overrides) {
    return one(entries, overrides).plus_minus;
  };
  const Override set = {"tolerance.gasket.thickness", "\u00b1 0.003 in"};
  EXPECT_DOUBLE_EQ(half("", {set}), 3 * kThou);
  EXPECT_DOUBLE_EQ(parsed(wedge(), {set}).tolerances.at(0).plus_minus, 3 * kThou) << "without the table";
  EXPECT_DOUBLE_EQ(half("\"gasket.thickness\" = \"\u00b1 0.002 in\"\n", {set}), 3 * kThou);
  EXPECT_DOUBLE_EQ(half("gasket.thickness = \"\u00b1 0.002 in\"\n", {set}), 3 * kThou);
  EXPECT_DOUBLE_EQ(half("\"gasket.thickness\" = { deviation = 0.001 }\n", {set}), 3 * kThou) << "the whole of it";
  EXPECT_EQ(read("gasket.bore = \"\u00b1 0.01\"\n\"gasket.thickness\" = \"\u00b1 0.002 in\"\n", {set}).size(), 2u);

  const Tolerance part = one("\"valve.intake.rim_height\" = { deviation = \"0.02 mm\", shared = \"head\" }\n",
                             {{"tolerance.valve.intake.rim_height.deviation", "0.03 mm"}});
  EXPECT_DOUBLE_EQ(part.deviation, 0.03);
  EXPECT_EQ(part.shared, "head") << "a part goes into what the file has";
  EXPECT_EQ(
      one("\"gasket.thickness\" = \"\u00b1 0.002 in\"\n", {{"tolerance.gasket.thickness.shape", "triangular"}}).shape,
      Shape::triangular);
  EXPECT_THAT(faults_of(wedge(), {{"tolerance.gasket.thicknes", "\u00b1 0.003"}}),
              ElementsAre("--set: unknown key \"gasket.thicknes\" in [tolerance]: did you mean \"gasket.thickness\"?"));
  EXPECT_THAT(faults_of(wedge(), {{"tolerance", "3"}}), ElementsAre(HasSubstr("tolerance must be a table")));
}

TEST(Tolerances, AreOfTheFileAndNotOfItsCylinders) {
  // The cylinder's flush lift takes the place of the file's rim height, which has a tolerance.
  const std::string text = with(
      "\"valve.intake.rim_height\" = \"\u00b1 0.002\"\n[each_cylinder]\nnames = [\"1\"]\n"
      "\"valve.intake.flush_lift\" = [0.181]\n");
  const EngineFile file = parsed(text);
  EXPECT_EQ(file.tolerances.size(), 1u);
  EXPECT_EQ(file.cylinders.size(), 1u);
}

struct Wrong {
  std::string entry, at, message;
};

TEST(Tolerances, Slips) {
  for (const Wrong& wrong : {
           Wrong{"\"gasket.thicknes\" = \"\u00b1 0.002\"\n", "\"gasket.thicknes\"",
                 "unknown key \"gasket.thicknes\" in [tolerance]: did you mean \"gasket.thickness\"?"},
           Wrong{"gasket.thicknes = \"\u00b1 0.002\"\n",
                 "thicknes = ", "unknown key \"gasket.thicknes\" in [tolerance]: did you mean \"gasket.thickness\"?"},
           Wrong{"gasket = {}\n", "gasket = {}", "unknown key \"gasket\" in [tolerance]"},
           Wrong{"\"zzz\" = \"\u00b1 0.002\"\n", "\"zzz\"",
                 "a tolerance stands under the dotted key of a number that this file states"},
           Wrong{"\"valve.intake.lobe\" = \"\u00b1 0.002\"\n", "\"valve.intake.lobe\"", "unknown key"},
           Wrong{"\"gasket.thickness\" = {}\n", "{}\n",
                 "[tolerance.gasket.thickness] must have plus_minus or deviation, "
                 "found neither"},
           Wrong{"\"gasket.thickness\" = { plus_minus = 0.002, deviation = 0.001 }\n", "{ plus",
                 "found both: leave one of the two out"},
           Wrong{"\"gasket.thickness\" = { deviation = 0.001, shape = \"uniform\" }\n", "\"uniform\"",
                 "tolerance.gasket.thickness.shape is \"uniform\", beside deviation: that is of a normal one; state "
                 "plus_minus instead"},
           Wrong{"\"gasket.thickness\" = { deviation = 0.001, shape = \"triangular\" }\n", "\"triangular\"",
                 "beside deviation"},
           Wrong{"\"gasket.thickness\" = { plus_minus = 0.001, shape = \"gauss\" }\n", "\"gauss\"",
                 "tolerance.gasket.thickness.shape is \"gauss\"; allowed are uniform, normal, triangular"},
           Wrong{"\"gasket.thickness\" = { plus_minus = -0.002 }\n", "-0.002 }",
                 "tolerance.gasket.thickness.plus_minus is -0.002 in; it must be a finite number, 0 or more"},
           Wrong{"\"gasket.thickness\" = \"\u00b1 nan\"\n", "\"\u00b1 nan\"", "it must be a finite number, 0 or more"},
           Wrong{"\"gasket.thickness\" = { deviation = -0.002 }\n", "-0.002 }", "must be a finite number, 0 or more"},
           Wrong{"\"gasket.thickness\" = \"\u00b1 2 deg\"\n", "\"\u00b1 2 deg\"",
                 "must be a length, found the unit \"deg\""},
           Wrong{"\"lobe.intake.centre\" = \"\u00b1 2 mm\"\n", "\"\u00b1 2 mm\"",
                 "must be an angle, found the unit \"mm\""},
           Wrong{"\"gasket.thickness\" = \"\u00b1 0.002 \u00b1 0.001\"\n", "\"\u00b1 0.002 ",
                 "it has no reading error"},
           Wrong{"\"gasket.thickness\" = \"\u00b1\"\n", "\"\u00b1\"", "must be a length"},
           Wrong{
               "\"gasket.thickness\" = \"0.002 in\"\n", "\"0.002 in\"",
               "tolerance.gasket.thickness must be \"\u00b1 0.1 mm\" or the like, or a table in braces with plus_minus "
               "or deviation, found the word \"0.002 in\""},
           Wrong{"\"gasket.thickness\" = \"0.041 \u00b1 0.002 in\"\n", "\"0.041 \u00b1", "must be \"\u00b1 0.1 mm\""},
           Wrong{"\"gasket.thickness\" = 0.002\n", "0.002\n", "found a number"},
           Wrong{"\"gasket.thickness\" = [0.002]\n", "[0.002]", "found a list"},
           Wrong{"\"gasket.thickness\" = { plus_minus = 0.002, shard = \"a\" }\n", "shard",
                 "unknown key \"shard\" in [tolerance.gasket.thickness]"},
           Wrong{"\"gasket.thickness\" = { plus_minus = 0.002, shared = 3 }\n", "3 }", "must be a word in quotes"},
           Wrong{"\"gasket.thickness\" = \"\u00b1 0.04\"\n", "\"\u00b1 0.04\"",
                 "gasket.thickness less its tolerance is 0.001 in; allowed is 0.003937 to 0.3937 in"},
           Wrong{"\"gasket.thickness\" = { deviation = 0.02 }\n", "{ dev",
                 "gasket.thickness less its tolerance of 3 deviations is -0.019 in"},
       }) {
    const std::string text = with(wrong.entry);
    const auto faults = faults_of(text);
    ASSERT_EQ(faults.size(), 1u) << wrong.entry << ::testing::PrintToString(faults);
    EXPECT_THAT(faults[0], HasSubstr(wrong.message)) << wrong.entry;
    const auto table = text.find("[tolerance]");
    EXPECT_THAT(faults[0], ::testing::StartsWith("e.toml:" + position(text.substr(0, table) + text.substr(table),
                                                                      text.substr(text.find(wrong.at, table)))))
        << wrong.entry;
  }
}

TEST(Tolerances, OfWhatIsStatedOtherwiseOrCountedOrFaulty) {
  const std::string flush = replaced(with("\"valve.intake.rim_height\" = \"\u00b1 0.002\"\n"),
                                     "rim_height = 0.560          # closed rim plane above the head's deck face\n", "");
  EXPECT_THAT(faults_of(flush), ElementsAre(HasSubstr("the file does not state valve.intake.rim_height, it states "
                                                      "valve.intake.flush_lift")));
  const std::string phased = file_text(model_path("four_valve_pent_roof_phased"));
  EXPECT_THAT(faults_of(with("\"cam.intake.teeth\" = \"\u00b1 1\"\n", phased)),
              ElementsAre(HasSubstr("cam.intake.teeth is counted, not measured: it has no tolerance")));
  // One slip, one message.
  EXPECT_THAT(faults_of(replaced(with("\"cylinder.bore\" = \"\u00b1 0.002\"\n"), "4.030", "\"abc\"")),
              ElementsAre(HasSubstr("\"abc\" is not a number")));
  EXPECT_THAT(faults_of(replaced(with("\"cylinder.bore\" = \"\u00b1 0.002\"\n"), "4.030", "0")),
              ElementsAre(HasSubstr("cylinder.bore is 0 in; allowed is")));
}

// Whatever comes is read or refused.
TEST(Tolerances, SpoiltTables) {
  const std::string text = with(
      "\"gasket.thickness\" = \"\u00b1 0.002 in\"\nvalve.intake.rim_height = { deviation = \"0.02 mm\", shared = \"a\" "
      "}\n"
      "\"valve.exhaust.rim_height\" = { plus_minus = \"0.02 mm\", shape = \"normal\", shared = \"a\" }\n");
  const std::size_t from = text.find("[tolerance]");
  const std::string signs = "[]{}=\"'#.,\n\\0123456789e-_ \xb1\xc2xyz";
  int read_so = 0, refused = 0;
  for (std::size_t at = from; at < text.size(); ++at) {
    for (std::size_t i = 0; i <= signs.size(); ++i) {
      std::string spoilt = text;
      if (i < signs.size())
        spoilt[at] = signs[i];
      else
        spoilt.erase(at, 9);
      if (i % 5 != at % 5 && i < signs.size()) continue;  // a fifth of them
      try {
        for (const Tolerance& each : parse_engine(spoilt, "e.toml").tolerances) {
          EXPECT_TRUE(std::isfinite(each.worst()) && each.worst() >= 0) << spoilt.substr(from);
          EXPECT_EQ(each.shape == Shape::normal, each.deviation > 0 || each.worst() == 0) << spoilt.substr(from);
        }
        ++read_so;
      } catch (const InputError& error) {
        for (const Fault& fault : error.faults()) EXPECT_FALSE(fault.message.empty());
        ++refused;
      }
    }
  }
  EXPECT_GT(read_so, 50);
  EXPECT_GT(refused, 500);
}

}  // namespace
}  // namespace eyebrow::testing
