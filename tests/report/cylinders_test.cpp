// Several cylinders in one report: the table, and what is told of the worst.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "eyebrow/report.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using testing::kInches;
using ::testing::Not;
using testing::sample_contact;
using testing::sample_result;
using testing::set_found;

constexpr double kThou = kInch / 1000;

/// One that holds, one in contact, one that is short; the second is the worst.
CylindersResult three_cylinders() {
  CheckResult holds = sample_result(), contact = sample_contact(), short_ = sample_result();
  set_found(short_, GapKind::travel, 70 * kThou);
  short_.verdict = Verdict::short_;
  holds.conditions.cylinder = "1";
  contact.conditions.cylinder = "left, rear";
  short_.conditions.cylinder = "3";
  return {{holds, contact, short_}, 1};
}

std::string head_of(const std::string& text) {
  return text.substr(0, text.find("\n\nsample engine"));
}

TEST(CylindersText, Golden) {
  EXPECT_EQ("\n" + head_of(check_text(three_cylinders(), kInches)), R"GOLD(
sample engine (invented)
Each cylinder by its own numbers: its verdict, and the asked gap with the least margin. * = the
worst, whose report follows. Lengths in inches; a found gap is rounded down, an asked one up.

  Cylinder                 found   asked  margin  verdict  least margin at
  1                        0.051   0.050   0.001  holds    intake, closest
* left, rear              -0.012   0.080  -0.092  CONTACT  intake, travel
  3                        0.070   0.080  -0.010  SHORT    intake, travel)GOLD");
}

TEST(CylindersText, TellsTheWorstInFullAndByName) {
  const CylindersResult result = three_cylinders();
  const std::string text = check_text(result, kInches);
  EXPECT_THAT(text, ::testing::EndsWith(check_text(result.each[1], kInches)));
  EXPECT_THAT(text, AllOf(HasSubstr("\nCylinder left, rear\n"),
                          HasSubstr("Conditions: cylinder left, rear; parts cold"), HasSubstr("Verdict: CONTACT.")));
  EXPECT_THAT(text, ::testing::EndsWith("Caution: an aid. The makers' limits rule; confirm on the assembled engine, "
                                        "turned by hand.\n"));
  EXPECT_THAT(check_text(sample_result(), kInches), Not(HasSubstr("ylinder"))) << "the file's own numbers";
}

TEST(CylindersText, RoundsAsTheOtherTablesDo) {
  CylindersResult result = three_cylinders();
  // 70.9 thou found is 0.070, 80.1 asked is 0.081, and the margin of -9.2 is -0.010.
  AskedRow& row = testing::asked_row(result.each[2], "travel", "intake");
  row.found = 70.9 * kThou;
  row.required = 80.1 * kThou;
  row.margin = row.found - row.required;
  EXPECT_THAT(check_text(result, kInches), HasSubstr("0.070   0.081  -0.010  SHORT"));
}

TEST(CylindersText, FitsAHundredColumnsWhateverTheNames) {
  CylindersResult result = three_cylinders();
  result.each[1].conditions.cylinder = std::string(64, 'c');
  for (AskedRow& row : result.each[1].asked) row.valve = std::string(60, 'v') + row.valve;
  result.each[2].conditions.cylinder = "\x1b[31m";
  for (const int digits : {-1, 2, 6})
    for (const LengthUnit units : {LengthUnit::mm, LengthUnit::inch}) {
      std::istringstream lines(check_text(result, {units, digits}));
      for (std::string line; std::getline(lines, line);) {
        EXPECT_LE(line.size(), 100u) << line;
        EXPECT_THAT(line, Not(HasSubstr("\x1b")));
      }
    }
}

TEST(CylindersText, ANeededGapThatIsNotThereComesFirst) {
  CylindersResult result = three_cylinders();
  AskedRow& row = testing::asked_row(result.each[2], "radial", "exhaust");
  row.holds = false;
  EXPECT_THAT(check_text(result, kInches),
              HasSubstr("3                         none   0.050          SHORT    exhaust, "
                        "radial\n"));
}

TEST(CylindersJson, HoldsTheWorstAsAlwaysAndEachBesideIt) {
  const CylindersResult result = three_cylinders();
  json read = json::parse(check_json(result));
  EXPECT_EQ(read.at("cylinder"), "left, rear");
  const json each = read.at("cylinders");
  read.erase("cylinder");
  read.erase("cylinders");
  EXPECT_EQ(read, json::parse(check_json(result.each[1])));

  ASSERT_EQ(each.size(), 3u);
  for (std::size_t i = 0; i < 3; ++i) {
    const CheckResult& of = result.each[i];
    EXPECT_EQ(each[i].at("name"), of.conditions.cylinder);
    EXPECT_EQ(each[i].at("verdict"), to_string(of.verdict));
    ASSERT_EQ(each[i].at("valves").size(), 2u);
    for (std::size_t valve = 0; valve < 2; ++valve) {
      const json& minima = each[i]["valves"][valve].at("minimum");
      EXPECT_EQ(each[i]["valves"][valve].at("name"), of.valves[valve].name);
      EXPECT_EQ(minima.size(), 5u);
      for (const GapKind kind : kGapKinds) {
        const Gap& gap = of.valves[valve].minimum.at(kind).gap;
        if (gap.measured())
          EXPECT_EQ(minima.at(to_string(kind)), gap.value);
        else
          EXPECT_TRUE(minima.at(to_string(kind)).is_null());
      }
      EXPECT_EQ(minima.at("bore"), of.valves[valve].bore.gap.value);
    }
  }
  EXPECT_EQ(each[0].at("what"), "closest");
  EXPECT_NEAR(each[0].at("least_margin"), 1 * kThou, 1e-12);
  EXPECT_EQ(each[1].at("what"), "travel");
  EXPECT_EQ(each[1].at("valve"), "intake");
  EXPECT_NEAR(each[1].at("found"), -12 * kThou, 1e-12);
  EXPECT_NEAR(each[1].at("required"), 80 * kThou, 1e-12);
  EXPECT_NEAR(each[1].at("least_margin"), -92 * kThou, 1e-12);
  EXPECT_EQ(each[1].at("running"), false);
  EXPECT_FALSE(json::parse(check_json(sample_result())).contains("cylinders"));
}

TEST(CylindersCsv, HasTheRowsOfAllBehindTheirNames) {
  const CylindersResult result = three_cylinders();
  std::istringstream all(check_csv(result, kInches));
  std::string line;
  ASSERT_TRUE(std::getline(all, line));
  for (const char* name : {"", "1,", "\"left, rear\",", "3,"}) {  // quoted by RFC 4180
    const std::size_t number = name[0] == '3' ? 2 : name[0] == '1' || name[0] == 0 ? 0 : 1;
    std::istringstream one(check_csv(result.each[number], kInches));
    std::string alone;
    ASSERT_TRUE(std::getline(one, alone));
    if (name[0] == 0) {
      EXPECT_EQ(line, "cylinder," + alone);
      continue;
    }
    int rows = 0;
    for (; std::getline(one, alone); ++rows) {
      ASSERT_TRUE(std::getline(all, line));
      EXPECT_EQ(line, name + alone);
    }
    EXPECT_EQ(rows, 3);
  }
  EXPECT_FALSE(std::getline(all, line));
}

}  // namespace
}  // namespace eyebrow
