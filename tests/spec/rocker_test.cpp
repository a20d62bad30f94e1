// A rocker's ratio against lift: reading it, and what lies between its rows.
#include "spec/rocker_ratio.hpp"

#include <cmath>

#include "spec/card_support.hpp"
#include "spec/running_engine.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

const std::string kTable =
    "[ { lift = 0.05, ratio = 1.52 }, { lift = 0.2, ratio = 1.58 }, { lift = 0.43, ratio = 1.6 } ]";

std::string with_table(const std::string& table) {
  return wedge_with("rocker_ratio = 1.6\nlash = 0.018\n\n[valve.exhaust]",
                    "rocker_table = " + table + "\nlash = 0.018\n\n[valve.exhaust]");
}

TEST(Rocker, TableOfTheFile) {
  const Engine engine = parsed(with_table(kTable)).engine;
  const std::vector<RatioAt> rows = engine.valves[0].rocker_table;
  ASSERT_EQ(rows.size(), 3u);
  EXPECT_NEAR(rows[1].lift, 0.2 * kInch, 1e-12);
  EXPECT_DOUBLE_EQ(rows[1].ratio, 1.58);
  EXPECT_NEAR(engine.valves[0].rocker_ratio, 1.6, 1e-12) << "at the greatest lift";
  EXPECT_TRUE(engine.valves[1].rocker_table.empty());
  EXPECT_THAT(warnings_of(with_table(kTable)), IsEmpty());
}

TEST(Rocker, Slips) {
  expect_one_fault(with_table("[ { lift = 0.05, ratio = 1.52 } ]"), "[ { lift",
                   {"valve.intake.rocker_table has 1 item; allowed are 2 to 20"});
  expect_one_fault(with_table("[ { lift = 0.2, ratio = 1.5 }, { lift = 0.1, ratio = 1.6 } ]"), "0.1, ratio",
                   {"valve.intake.rocker_table.2.lift is 0.1 in, after 0.2 in; the rows go up in lobe lift"});
  expect_one_fault(with_table("[ { lift = 0.1, ratio = 1.5 }, { lift = 0.2, ratio = 16 } ]"), "16 }",
                   {"rocker_table.2.ratio is 16; allowed is 0.5 to 3"});
  expect_one_fault(with_table("[ { lift = 0.1, ratio = 1.5 }, { lift = 0.2 } ]"), "{ lift = 0.2 }",
                   {"missing key \"ratio\" in [valve.intake.rocker_table.2]"});
  expect_one_fault(with_table("1.6"), "1.6\nlash = 0.018\n\n[valve.exhaust]", {"must be a list of tables"});
  // 0.2 * 1.6 = 0.32 in, and at 0.25 only 0.25 * 1.2 = 0.30.
  expect_one_fault(with_table("[ { lift = 0.1, ratio = 1.6 }, { lift = 0.2, ratio = 1.6 }, { lift = 0.25, ratio = 1.2 "
                              "} ]"),
                   "1.2 }", {"from 0.2 in to 0.25 in of lobe lift the valve goes back while the lobe lifts on"});
  expect_one_fault(with_table(kTable + "\nrocker_ratio = 1.55"), "1.55",
                   {"valve.intake.rocker_ratio is given, and valve.intake.rocker_table too"});
}

TEST(Rocker, LikeTakesOneOfTheTwoWays) {
  const std::string text = replaced(with_table(kTable), "rocker_ratio = 1.6\nlash = 0.018\n\n[check]",
                                    "like = \"intake\"\nrocker_ratio = 1.6\nlash = 0.018\n\n[check]");
  EXPECT_THAT(faults_of(text), IsEmpty());
  EXPECT_TRUE(parsed(text).engine.valves[1].rocker_table.empty());
}

// A table states the ratio that [running.pump_up] needs as well.
TEST(Rocker, ATableCarriesThePreload) {
  const std::string text = replaced(with_running(kRunning), "rocker_ratio = 1.6\nlash = 0.018\n\n[valve.exhaust]",
                                    "rocker_table = " + kTable + "\nlash = 0.018\n\n[valve.exhaust]");
  EXPECT_THAT(faults_of(text), IsEmpty());
}

// Closed form: the valve lifts 0.05 * 1.52 = 0.076 in and 0.2 * 1.58 = 0.316 in at the table's own rows.
TEST(Rocker, CarriesTheLiftsOfACard) {
  std::string text = with_intake_card(
      "centre = 104\ndurations = [ { at = 0.076, duration = 266, measured = \"valve\" }, "
      "{ at = 0.316, duration = 182, measured = \"valve\" } ]");
  text = replaced(text, "rocker_ratio = 1.6\nlash = 0.018\n\n[valve.exhaust]",
                  "rocker_table = " + kTable + "\nlash = 0.018\n\n[valve.exhaust]");
  const Lobe lobe = parsed(text).engine.lobes[0];
  ASSERT_EQ(lobe.durations.size(), 2u);
  EXPECT_NEAR(lobe.durations[0].lift, 0.05 * kInch, 1e-9);
  EXPECT_NEAR(lobe.durations[1].lift, 0.2 * kInch, 1e-9);
}

TEST(RockerRatio, PassesThroughTheRowsAndIsLevelOutside) {
  const std::vector<RatioAt> table = {{1, 1.5}, {3, 1.6}, {5, 1.58}, {9, 1.7}};
  const RockerRatio rocker(table);
  for (const RatioAt& row : table) EXPECT_NEAR(rocker.ratio(row.lift), row.ratio, 1e-14);
  for (const double lift : {-1.0, 0.0, 0.5, 1.0}) EXPECT_EQ(rocker.ratio(lift), 1.5);
  for (const double lift : {9.0, 9.5, 50.0}) EXPECT_NEAR(rocker.ratio(lift), 1.7, 1e-14);
  EXPECT_EQ(rocker.slope(0.5), 0);
  EXPECT_EQ(rocker.slope(20), 0);
  EXPECT_NEAR(rocker.slope(1 + 1e-9), 0, 1e-8);
  EXPECT_NEAR(rocker.slope(9 - 1e-9), 0, 1e-8);
}

// Closed form: between two rows alone, level at both ends, it is the cubic 3 u^2 - 2 u^3.
TEST(RockerRatio, TwoRowsMakeTheLevelCubic) {
  const RockerRatio rocker(std::vector<RatioAt>{{2, 1.4}, {6, 1.6}});
  for (double u = 0; u <= 1; u += 0.1)
    EXPECT_NEAR(rocker.ratio(2 + 4 * u), 1.4 + 0.2 * u * u * (3 - 2 * u), 1e-12) << u;
}

TEST(RockerRatio, RisesAndFallsWithItsRowsAndHasOneSlope) {
  const std::vector<RatioAt> table = {{0.5, 1.45}, {1, 1.6}, {1.2, 1.6}, {4, 1.7}, {8, 1.66}};
  const RockerRatio rocker(table);
  for (std::size_t i = 1; i < table.size(); ++i) {
    double last = table[i - 1].ratio;
    const double sign = table[i].ratio >= table[i - 1].ratio ? 1 : -1;
    for (int k = 1; k <= 200; ++k) {
      const double ratio = rocker.ratio(std::lerp(table[i - 1].lift, table[i].lift, k / 200.0));
      EXPECT_GE(sign * (ratio - last), -1e-14);
      last = ratio;
    }
    EXPECT_NEAR(rocker.slope(table[i].lift - 1e-9), rocker.slope(table[i].lift + 1e-9), 1e-6);
  }
  for (double lift = 0.3; lift < 9; lift += 0.037)
    EXPECT_NEAR(rocker.slope(lift), (rocker.ratio(lift + 1e-6) - rocker.ratio(lift - 1e-6)) / 2e-6, 1e-5);
}

TEST(RockerRatio, BackToTheLobe) {
  const RockerRatio rocker(std::vector<RatioAt>{{0.5, 1.45}, {4, 1.7}, {8, 1.66}});
  for (double lift = 0; lift < 12; lift += 0.1)
    EXPECT_NEAR(rocker.lobe_lift(rocker.valve_lift(lift)), lift, 1e-12 * (1 + lift));
  Valve valve;
  valve.rocker_ratio = 1.6;
  EXPECT_NEAR(RockerRatio(valve).lobe_lift(1.6), 1, 1e-14);
  EXPECT_TRUE(std::isnan(rocker.lobe_lift(NAN)));
  EXPECT_THROW(RockerRatio(std::vector<RatioAt>{{1, 1.5}}), Error);
  EXPECT_THROW(RockerRatio(std::vector<RatioAt>{{1, 1.5}, {1, 1.6}}), Error);
}

// Closed form: gain = d (L r) / d L; a ratio that falls from 1.6 to 1.2 over 2 to 2.5 mm sends the valve back.
TEST(RockerRatio, LeastAndGreatestGain) {
  const RockerRatio back(std::vector<RatioAt>{{1, 1.6}, {2, 1.6}, {2.5, 1.2}});
  EXPECT_LT(back.least_gain().gain, 0);
  EXPECT_GT(back.least_gain().lift, 2);
  const RockerRatio level(std::vector<RatioAt>{{1, 1.6}, {2, 1.6}});
  EXPECT_NEAR(level.least_gain().gain, 1.6, 1e-14);
  EXPECT_NEAR(level.greatest_gain().gain, 1.6, 1e-14);
  EXPECT_GT(RockerRatio(std::vector<RatioAt>{{2, 1.4}, {6, 1.6}}).greatest_gain().gain, 1.6 + 4 * 0.05);
}

}  // namespace
}  // namespace eyebrow::testing
