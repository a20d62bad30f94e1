// The contract "eyebrow.check/1": everything in it reads back exactly, in mm and degrees.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "eyebrow/report.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using nlohmann::json;
using testing::sample_result;

TEST(CheckJson, ReadsBackExactly) {
  const CheckResult result = sample_result();
  const json read = json::parse(check_json(result));
  EXPECT_EQ(read["schema"], "eyebrow.check/1");
  EXPECT_EQ(read["engine"], result.engine);
  ASSERT_EQ(read["valves"].size(), 2u);
  const Minimum& travel = result.valves[0].minimum.at(GapKind::travel);
  const json& least = read["valves"][0]["minimum"]["travel"];
  EXPECT_EQ(read["valves"][0]["name"], "intake");
  EXPECT_EQ(read["valves"][0]["role"], "intake");
  EXPECT_EQ(least["value"].get<double>(), travel.gap.value);
  EXPECT_EQ(least["low"].get<double>(), travel.gap.low);
  EXPECT_EQ(least["high"].get<double>(), travel.gap.high);
  EXPECT_EQ(least["crank"].get<double>(), 9.4);
  EXPECT_EQ(least["span"], json::parse("[8.9, 9.9]"));
  EXPECT_EQ(least["lift"].get<double>(), travel.lift);
  EXPECT_EQ(least["piston_depth"].get<double>(), travel.piston_depth);
  EXPECT_EQ(least["entry"].get<double>(), travel.entry);
  EXPECT_EQ(least["point_valve"], json::parse("[1.0, 2.0, 3.0]"));
  EXPECT_EQ(least["point_other"][2].get<double>(), travel.point_other.z);
  EXPECT_EQ(least["faces"], json::parse(R"(["rim edge", "intake pocket floor"])"));
  EXPECT_EQ(least["clock"].get<double>(), 4.5);
  EXPECT_EQ(least["from_centre"].get<double>(), travel.from_centre);
  EXPECT_EQ(read["valves"][0]["status"]["travel"], "measured");

  EXPECT_EQ(read["valves"][0]["minimum"]["entry"]["value"].get<double>(), result.valves[0].deepest_entry);
  EXPECT_EQ(read["valves"][0]["minimum"]["entry"]["crank"].get<double>(), 15.0);

  const json& series = read["valves"][0]["series"];
  EXPECT_EQ(series["crank"], json::parse("[-1.0, 0.0, 1.0]"));
  EXPECT_EQ(series["travel"][1].get<double>(), result.valves[0].series.travel[1]);
  EXPECT_EQ(series["travel_from_seat"][2].get<double>(), result.valves[0].series.drop_travel[2]);

  EXPECT_EQ(read["pairs"][0]["valves"], json::parse(R"(["intake", "exhaust"])"));
  EXPECT_EQ(read["pairs"][0]["minimum"]["value"].get<double>(), result.pairs[0].minimum.gap.value);
  EXPECT_EQ(read["pairs"][0]["minimum"]["lift2"].get<double>(), result.pairs[0].minimum.lift2);
  EXPECT_EQ(read["head"]["piston_to_head"].get<double>(), result.piston_to_head);
  EXPECT_EQ(read["head"]["checked"], result.piston_to_head_checked);

  ASSERT_EQ(read["asked"].size(), result.asked.size());
  EXPECT_EQ(read["asked"][0]["what"], "travel");
  EXPECT_EQ(read["asked"][0]["required"].get<double>(), result.asked[0].required);
  EXPECT_EQ(read["asked"][0]["margin"].get<double>(), result.asked[0].margin);
  EXPECT_EQ(read["asked"][0]["holds"], true);
  EXPECT_TRUE(read["asked"][11]["valve"].is_null()) << "the head belongs to no valve";
  EXPECT_EQ(read["verdict"], "holds");
  EXPECT_EQ(read["conditions"]["step"].get<double>(), 1.0);
  EXPECT_EQ(read["conditions"]["advance"], json::parse(R"({"cam": 0.0})"));
  EXPECT_EQ(read["conditions"]["lash"], "zero");
  EXPECT_EQ(read["conditions"]["gasket"].get<double>(), result.conditions.gasket);
}

TEST(CheckJson, TellsBothSidesOfAJump) {
  CheckResult result = sample_result();
  Minimum& radial = result.valves[0].minimum[GapKind::radial];
  radial.gap.status = GapStatus::jump;
  radial.gap.high = INFINITY;
  radial.before = 1.5;
  const json read = json::parse(check_json(result));
  const json& least = read["valves"][0]["minimum"]["radial"];
  EXPECT_EQ(least["jump"], json::parse(R"({"before": 1.5, "after": null})"));
  EXPECT_TRUE(least["high"].is_null());
  EXPECT_TRUE(read["valves"][0]["minimum"]["travel"]["jump"].is_null());
}

TEST(CheckJson, TellsTheInterferenceOfAValveInContact) {
  const json read = json::parse(check_json(testing::sample_contact()));
  const Interference found = *testing::sample_contact().valves[0].interference;
  const json& told = read["valves"][0]["interference"];
  EXPECT_EQ(told["withdraw"].get<double>(), found.withdraw);
  EXPECT_EQ(told["deepen"].get<double>(), found.deepen);
  EXPECT_EQ(told["crank"], 9.4);
  EXPECT_EQ(told["volume"], 12.345);
  EXPECT_EQ(told["volume_error"], 0.0123);
  EXPECT_EQ(told["place"], json::parse("[4.0, 5.0, -6.0]"));
  EXPECT_EQ(told["clock"], 4.5);
  EXPECT_EQ(told["from_centre"].get<double>(), found.from_centre);
  EXPECT_TRUE(told.at("widen").is_null());
  EXPECT_EQ(told.size(), 9u);
  EXPECT_TRUE(read["valves"][1].at("interference").is_null()) << "not in contact";
  EXPECT_TRUE(json::parse(check_json(sample_result()))["valves"][0].at("interference").is_null());
}

TEST(CheckJson, WritesNullWhereThereIsNone) {
  const json read = json::parse(check_json(sample_result()));
  EXPECT_TRUE(read["valves"][1]["minimum"]["radial"].is_null());
  EXPECT_EQ(read["valves"][1]["status"]["radial"], "not_in_reach");
  EXPECT_EQ(read["valves"][1]["reason"]["radial"], "not in reach");
  EXPECT_TRUE(read["valves"][0]["series"]["radial"][0].is_null());
  EXPECT_TRUE(read["valves"][0]["minimum"]["bore"]["entry"].is_null());
  EXPECT_TRUE(read["asked"][6]["found"].is_null());
  EXPECT_TRUE(read["asked"][6]["margin"].is_null());
  EXPECT_EQ(read["asked"][6]["note"], "not in reach: the closest gap holds this");
}

TEST(CheckJson, KeepsTheOrderOfItsKeys) {
  const auto read = nlohmann::ordered_json::parse(check_json(sample_result()));
  std::vector<std::string> keys;
  for (const auto& item : read.items()) keys.push_back(item.key());
  EXPECT_THAT(keys, ::testing::ElementsAre("schema", "engine", "length_unit", "angle_unit", "valves", "pairs", "head",
                                           "crown_left", "compression", "reserves", "remedies", "allowances", "asked",
                                           "verdict", "conditions", "advice", "warnings"));
}

TEST(CheckJson, IsTheSameWhateverTheUnits) {
  CheckResult result = sample_result();
  const std::string in_inches = check_json(result);
  result.units = LengthUnit::mm;
  EXPECT_EQ(check_json(result), in_inches);
}

TEST(CheckJson, SurvivesAnyName) {
  CheckResult result = sample_result();
  result.engine = "quote \" backslash \\ newline \n escape \x1b";
  EXPECT_EQ(json::parse(check_json(result))["engine"], result.engine);
  result.engine = "\xff\xfe not UTF-8";
  EXPECT_NO_THROW(json::parse(check_json(result)));
}

TEST(CheckJson, HoldsNoInfinityAndNoNegativeZero) {
  CheckResult result = sample_result();
  result.valves[0].series.face = {INFINITY, -INFINITY, -0.0};
  const json read = json::parse(check_json(result));
  EXPECT_TRUE(read["valves"][0]["series"]["face"][0].is_null());
  EXPECT_TRUE(read["valves"][0]["series"]["face"][1].is_null());
  EXPECT_EQ(read["valves"][0]["series"]["face"][2].dump(), "0.0");
}

TEST(CheckJson, CarriesTheWarnings) {
  CheckResult result = sample_result();
  result.warnings = {{"e.toml", 3, 7, "the rim cannot enter its pocket"}};
  EXPECT_EQ(json::parse(check_json(result))["warnings"],
            json::parse(R"(["e.toml:3:7: the rim cannot enter its pocket"])"));
}

}  // namespace
}  // namespace eyebrow
