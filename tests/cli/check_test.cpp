// `eyebrow check` on a model: what it prints, what its files hold, how it ends.
#include <gmock/gmock.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

class Check : public ProgramTest {
 protected:
  /// Coarse samples: the least gaps are refined all the same, and the run is shorter.
  Outcome check(std::vector<std::string> more = {}) const {
    std::vector<std::string> words = {"check", kEngine, "--step", "10"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
  }

  /// The result as JSON.
  json result(std::vector<std::string> more = {}) const {
    more.insert(more.end(), {"--json", "-", "--no-remedies"});
    const Outcome outcome = check(more);
    json read = json::parse(outcome.out, nullptr, false);
    EXPECT_FALSE(read.is_discarded()) << outcome.err;
    EXPECT_EQ(outcome.status, read["verdict"] == "holds" ? 0 : 1);
    return read;
  }
};

// The asked row `what` of `valve`.
json asked(const json& result, const std::string& what, const json& valve) {
  for (const json& row : result["asked"])
    if (row["what"] == what && row["valve"] == valve) return row;
  ADD_FAILURE() << "not asked: " << what << " of " << valve;
  return {};
}

bool number_or_null(const json& value) {
  return value.is_number() || value.is_null();
}
bool text_or_null(const json& value) {
  return value.is_string() || value.is_null();
}

std::vector<std::string> keys(const json& object) {
  std::vector<std::string> out;
  for (const auto& item : object.items()) out.push_back(item.key());
  return out;
}

void expect_point(const json& point) {
  ASSERT_TRUE(point.is_array());
  ASSERT_EQ(point.size(), 3u);
  for (const json& part : point) EXPECT_TRUE(part.is_number());
}

void expect_minimum(const json& least) {
  ASSERT_TRUE(least.is_object()) << least;
  for (const char* key : {"value", "low", "high", "crank", "lift", "piston_depth"})
    EXPECT_TRUE(least.at(key).is_number()) << key << " " << least;
  for (const char* key : {"entry", "clock", "from_centre"}) EXPECT_TRUE(number_or_null(least.at(key))) << key;
  EXPECT_LE(least["low"], least["value"]);
  EXPECT_LE(least["value"], least["high"]);
  EXPECT_GE(least["crank"], -360);
  EXPECT_LE(least["crank"], 360);
  EXPECT_GE(least["lift"], 0);
  expect_point(least.at("point_valve"));
  expect_point(least.at("point_other"));
  ASSERT_EQ(least.at("faces").size(), 2u);
  for (const json& face : least["faces"]) EXPECT_FALSE(face.get<std::string>().empty());
  ASSERT_EQ(least.at("span").size(), 2u);
}

TEST_F(Check, PrintsTheTableAndHolds) {
  const Outcome outcome = run({"check", kEngine});
  EXPECT_EQ(outcome.status, 0);
  EXPECT_THAT(outcome.err, IsEmpty()) << "no progress where there is no terminal";
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("Valve intake"), HasSubstr("Valve exhaust"), HasSubstr("o'clock"),
                                 HasSubstr("Verdict: holds."), HasSubstr("Lengths in inches"), HasSubstr("ATDC"),
                                 HasSubstr("BTDC"), HasSubstr("confirm on the assembled engine")));
  for (const std::string& line : lines_of(outcome.out)) EXPECT_LE(line.size(), 100u) << line;
  EXPECT_THAT(names(), IsEmpty());
}

TEST_F(Check, TheReadmeShowsWhatItPrints) {
  const std::string readme = read_file(model("x").parent_path().parent_path() / "README.md");
  const std::string out = run({"check", model("inline_six_big_valve").string(), "--no-remedies"}).out;
  EXPECT_THAT(readme, HasSubstr("```\n" + out)) << "what is to restore the gaps follows there";
}

TEST_F(Check, IsShortWhenMoreIsAsked) {
  const Outcome outcome = check({"--set", "asked.piston_to_head=0.045"});
  EXPECT_EQ(outcome.status, 1);
  EXPECT_THAT(outcome.out,
              AllOf(HasSubstr("SHORT"), HasSubstr("Verdict: SHORT."), HasSubstr("piston to head: margin -0.004"),
                    HasSubstr("To restore piston.head (0.041 of 0.045 in)"),
                    HasSubstr("  gasket.thickness = 0.0450 in   a thicker gasket by 0.0040 in\n")));
  EXPECT_THAT(check({"--set", "asked.piston_to_head=0.045", "--no-remedies"}).out, Not(HasSubstr("To restore")));
}

TEST_F(Check, TellsWhatAContactAsksFor) {
  // A pocket cut much too shallow: the intake stands in its floor.
  const std::vector<std::string> shallow = {"--set", "pocket.intake.depth=0.02", "--no-remedies"};
  EXPECT_THAT(check(shallow).out, AllOf(HasSubstr("    contact  withdraw the valve by 0."), HasSubstr("Not a cut"),
                                        HasSubstr("with no gap left")));
  const json read = result(shallow);
  EXPECT_EQ(read["verdict"], "contact");
  const json &valve = read["valves"][0], &told = valve["interference"];
  EXPECT_EQ(told.at("withdraw").get<double>(), -valve["card"]["travel"]["least"].get<double>());
  EXPECT_EQ(told.at("crank"), valve["minimum"]["travel"]["crank"]);
  EXPECT_GT(told.at("volume"), 0);
  EXPECT_LT(told.at("volume_error"), told.at("volume"));
  expect_point(told.at("place"));
  EXPECT_TRUE(read["valves"][1]["interference"].is_null());
}

TEST_F(Check, QuietSaysNothingButEndsTheSame) {
  const Outcome holds = check({"--quiet"});
  EXPECT_EQ(holds.status, 0);
  EXPECT_THAT(holds.out + holds.err, IsEmpty());
  EXPECT_EQ(check({"--quiet", "--set", "asked.intake.radial=0.3"}).status, 1);
}

// eyebrow.check/1: every key, every type, and what its numbers owe each other.
TEST_F(Check, JsonKeepsItsContract) {
  const json read = result();
  EXPECT_EQ(read.at("schema"), "eyebrow.check/1");
  EXPECT_EQ(read.at("length_unit"), "mm");
  EXPECT_EQ(read.at("angle_unit"), "degree");
  EXPECT_TRUE(read.at("engine").is_string());
  ASSERT_EQ(read.at("valves").size(), 2u);
  for (const json& valve : read["valves"]) {
    SCOPED_TRACE(valve.at("name").dump());
    EXPECT_TRUE(valve.at("role") == "intake" || valve.at("role") == "exhaust");
    EXPECT_TRUE(valve.at("overhangs_bore").is_boolean());
    EXPECT_TRUE(valve.at("interference").is_null()) << "this model holds";
    for (const char* kind : {"travel", "face", "radial", "closest", "bore"}) {
      SCOPED_TRACE(kind);
      const json& least = valve.at("minimum").at(kind);
      const std::string status = valve.at("status").at(kind);
      EXPECT_TRUE(text_or_null(valve.at("reason").at(kind)));
      if (least.is_null()) {
        EXPECT_TRUE(status == "not_in_reach" || status == "no_meeting") << status;
      } else {
        EXPECT_TRUE(status == "measured" || status == "jump") << status;
        expect_minimum(least);
      }
    }
    const json& entry = valve.at("minimum").at("entry");
    EXPECT_TRUE(entry.at("value").is_number());
    EXPECT_TRUE(entry.at("crank").is_number());
    EXPECT_EQ(keys(entry), (std::vector<std::string>{"crank", "faces", "high", "lift", "low", "piston_depth",
                                                     "point_other", "point_valve", "value"}));

    const json& series = valve.at("series");
    const std::size_t samples = series.at("crank").size();
    EXPECT_GE(samples, 72u);
    for (const char* column : {"crank", "lift", "piston_depth", "travel", "face", "radial", "closest", "entry",
                               "travel_from_seat", "greatest_lift"}) {
      ASSERT_EQ(series.at(column).size(), samples) << column;
      for (const json& value : series[column]) EXPECT_TRUE(number_or_null(value)) << column;
    }
    // The least is never more than a sample, sampled or not.
    for (const char* kind : {"travel", "face", "radial", "closest"})
      for (const json& value : series[kind])
        if (value.is_number()) {
          EXPECT_LE(valve["minimum"][kind]["low"].get<double>(), value.get<double>() + 1e-6) << kind;
        }
  }
  ASSERT_EQ(read.at("pairs").size(), 1u);
  EXPECT_EQ(read["pairs"][0].at("valves").size(), 2u);
  expect_minimum(read["pairs"][0].at("minimum"));
  EXPECT_TRUE(read["pairs"][0]["minimum"].at("lift2").is_number());
  EXPECT_NEAR(read.at("head").at("piston_to_head").get<double>(), 0.041 * 25.4, 1e-9);
  EXPECT_THAT(read["head"].at("checked").get<std::string>(), HasSubstr("deck and gasket only"));

  EXPECT_EQ(read.at("asked").size(), 12u) << "four a valve, one pair, two to the bore, one to the head";
  bool holds = true;
  for (const json& row : read["asked"]) {
    EXPECT_TRUE(row.at("what").is_string());
    EXPECT_TRUE(text_or_null(row.at("valve")));
    EXPECT_TRUE(row.at("required").is_number());
    EXPECT_TRUE(text_or_null(row.at("note")));
    holds = holds && row.at("holds").get<bool>();
    if (row.at("found").is_null()) continue;
    EXPECT_NEAR(row.at("margin").get<double>(), row["found"].get<double>() - row["required"].get<double>(), 1e-12);
    EXPECT_EQ(row["holds"].get<bool>(), row["margin"].get<double>() >= 0);
  }
  EXPECT_EQ(read.at("verdict"), holds ? "holds" : "short");
  EXPECT_EQ(keys(read.at("conditions")),
            (std::vector<std::string>{"advance", "angle_milled", "changed", "cold", "crown_from", "crown_mended",
                                      "deck_clearance", "drive_late", "gasket", "lash", "rigid", "step", "stops",
                                      "valves_from"}));
  EXPECT_TRUE(read["conditions"]["crown_from"].is_null()) << "from numbers";
  EXPECT_EQ(read["conditions"]["step"], 10.0);
  EXPECT_EQ(read["conditions"]["lash"], "zero");
  EXPECT_NEAR(read["conditions"]["gasket"].get<double>(), 0.041 * 25.4, 1e-9);
  EXPECT_TRUE(read.at("warnings").is_array());
}

TEST_F(Check, JsonIsInMillimetresWhateverTheUnits) {
  EXPECT_EQ(result({"--units", "mm"}), result({"--units", "in", "--digits", "5"}));
}

TEST_F(Check, SameInputGivesTheSameBytes) {
  const std::vector<std::string> words = {"check", kEngine, "--step", "10", "--json", "a", "--csv", "b"};
  const std::string table = run(words).out, a = read_file(path("a")), b = read_file(path("b"));
  EXPECT_EQ(run(words).out, table);
  EXPECT_EQ(read_file(path("a")), a);
  EXPECT_EQ(read_file(path("b")), b);
}

TEST_F(Check, CsvHasOneRowAValveAndSample) {
  const Outcome outcome = run({"check", kEngine, "--csv", "-"});
  EXPECT_EQ(outcome.status, 0);
  const std::vector<std::string> lines = lines_of(outcome.out);
  ASSERT_GT(lines.size(), 1u);
  EXPECT_EQ(lines.front(),
            "valve,crank_deg,lift_in,piston_depth_in,travel_in,face_in,radial_in,closest_in,entry_in,"
            "travel_from_seat_in,greatest_lift_in");
  std::map<std::string, std::vector<double>> cranks;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    EXPECT_EQ(std::count(lines[i].begin(), lines[i].end(), ','), 10) << lines[i];
    std::istringstream stream(lines[i]);
    std::string name, crank;
    std::getline(stream, name, ',');
    std::getline(stream, crank, ',');
    cranks[name].push_back(std::stod(crank));
  }
  ASSERT_EQ(cranks.size(), 2u);
  for (const auto& [name, angles] : cranks) {
    EXPECT_GE(angles.size(), 720u) << name;
    EXPECT_EQ(angles.front(), -360);
    EXPECT_GE(angles.back(), 359);
    for (std::size_t i = 1; i < angles.size(); ++i) ASSERT_NEAR(angles[i] - angles[i - 1], 1, 1e-9) << name;
  }
}

TEST_F(Check, UnitsAndDigitsRuleTheTable) {
  const std::string mm = check({"--units", "mm"}).out;
  EXPECT_THAT(mm, AllOf(HasSubstr("Lengths in mm"), HasSubstr("gasket 1.04 mm"), Not(HasSubstr(" in from"))));
  const std::string fine = check({"--units", "mm", "--digits", "4"}).out;
  EXPECT_THAT(fine, AllOf(HasSubstr("1.0414"), HasSubstr("1.0160")));
  EXPECT_THAT(check({"--digits", "5"}).out, HasSubstr("0.04100"));
  EXPECT_THAT(check({"--units", "mm", "--csv", "-"}).out, HasSubstr("lift_mm"));
}

TEST_F(Check, SetReachesTheNumbers) {
  const double mm = 25.4;
  EXPECT_NEAR(result({"--set", "gasket.thickness=0.051"})["head"]["piston_to_head"].get<double>(), 0.051 * mm, 1e-9);
  EXPECT_NEAR(result({"--set", "gasket.thickness=1.5 mm"})["head"]["piston_to_head"].get<double>(), 1.5, 1e-9);
  const json two = result({"--set", "gasket.thickness=0.051", "--set", "cylinder.deck_clearance=0.004"});
  EXPECT_NEAR(two["head"]["piston_to_head"].get<double>(), 0.055 * mm, 1e-9);
  EXPECT_NEAR(asked(result({"--set", "asked.exhaust.travel=0.1"}), "travel", "exhaust")["required"].get<double>(),
              0.1 * mm, 1e-9);
  EXPECT_EQ(result({"--set", "cam.advance=4"})["conditions"]["advance"], json::parse(R"({"cam": 4.0})"));
}

// Common practice: a thicker gasket lifts the valves off the piston; advance takes from the intake and gives to the
// exhaust.
TEST_F(Check, GapsMoveTheWayTheTradeKnows) {
  const json stock = result();
  const auto travel = [](const json& read, const char* valve) {
    return asked(read, "travel", valve)["found"].get<double>();
  };
  const json thick = result({"--set", "gasket.thickness=0.051"});
  EXPECT_GT(travel(thick, "intake"), travel(stock, "intake"));
  EXPECT_GT(travel(thick, "exhaust"), travel(stock, "exhaust"));
  const json advanced = result({"--set", "cam.advance=2"});
  EXPECT_LT(travel(advanced, "intake"), travel(stock, "intake"));
  EXPECT_GT(travel(advanced, "exhaust"), travel(stock, "exhaust"));
}

TEST_F(Check, TextAndJsonTellTheSame) {
  const json read = result();
  const std::string text = check({"--units", "mm", "--digits", "3"}).out;
  for (const json& row : read["asked"]) {
    if (row["found"].is_null()) continue;
    const double down = std::floor(row["found"].get<double>() * 1000 + 1e-6) / 1000;
    char printed[32];
    std::snprintf(printed, sizeof printed, "%.3f", down);
    EXPECT_THAT(text, HasSubstr(printed)) << row;
  }
}

TEST_F(Check, ShowsItsProgressOnATerminalOnly) {
  const Outcome outcome = finish(start({"check", kEngine, "--step", "10", "--quiet"}, {.terminal = true}));
  EXPECT_EQ(outcome.status, 0);
  EXPECT_THAT(outcome.err, IsEmpty()) << "quiet";
  const Outcome shown = finish(start({"check", kEngine, "--step", "10"}, {.terminal = true}));
  EXPECT_THAT(shown.err, HasSubstr("\rchecking: "));
  // The last thing written is blanks over the line and a return to its start.
  EXPECT_THAT(shown.err, ::testing::MatchesRegex("(.|\n|\r)*\r +\r"));
}

}  // namespace
}  // namespace eyebrow::testing
