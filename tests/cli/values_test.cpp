// What may be written after an option.
#include "cli/values.hpp"

#include <gtest/gtest.h>

#include "cli/options.hpp"
#include "eyebrow/report.hpp"

namespace eyebrow::cli {
namespace {

TEST(ParseCrank, TakesBothWaysOfTheTrade) {
  EXPECT_DOUBLE_EQ(parse_crank("--at", "12.5ATDC"), 12.5 * kDegree);
  EXPECT_DOUBLE_EQ(parse_crank("--at", "12.5 atdc"), 12.5 * kDegree);
  EXPECT_DOUBLE_EQ(parse_crank("--at", "8BTDC"), -8 * kDegree);
  EXPECT_DOUBLE_EQ(parse_crank("--at", "TDC"), 0);
  EXPECT_DOUBLE_EQ(parse_crank("--at", "0 TDC"), 0);
  EXPECT_DOUBLE_EQ(parse_crank("--at", "-8"), -8 * kDegree);
  EXPECT_DOUBLE_EQ(parse_crank("--at", "+8"), 8 * kDegree);
  EXPECT_DOUBLE_EQ(parse_crank("--at", "360"), 360 * kDegree);
}

TEST(ParseCrank, RefusesWhatIsUnclear) {
  for (const char* text : {"", " ", "x", "8BDC", "-8ATDC", "-8BTDC", "5TDC", "361", "-360.1", "nan", "inf", "8ATDCx",
                           "ATDC", "8 8", "1e3", "0x10"})
    EXPECT_THROW(parse_crank("--at", text), UsageError) << text;
}

TEST(ParseCrank, ReadsWhatTheReportPrints) {
  for (int tenths = -3599; tenths <= 3600; ++tenths) {
    const double crank = tenths * 0.1 * kDegree;
    ASSERT_NEAR(parse_crank("--at", crank_text(crank)), crank, 1e-12) << crank_text(crank);
  }
}

TEST(ParseStep, KeepsToItsRange) {
  EXPECT_DOUBLE_EQ(parse_step("--step", "0.5"), 0.5 * kDegree);
  EXPECT_DOUBLE_EQ(parse_step("--step", "10"), 10 * kDegree);
  for (const char* text : {"0", "-1", "0.001", "10.1", "nan", "inf", "one", "", "1deg"})
    EXPECT_THROW(parse_step("--step", text), UsageError) << text;
}

TEST(ParseDigits, TakesWholeNumbersFromTwoToSix) {
  EXPECT_EQ(parse_digits("--digits", "2"), 2);
  EXPECT_EQ(parse_digits("--digits", "6"), 6);
  for (const char* text : {"-1", "0", "1", "7", "2.5", "", "two", "99999999999"})
    EXPECT_THROW(parse_digits("--digits", text), UsageError) << text;
}

TEST(ParseStepFile, TakesBothEndings) {
  for (const char* text : {"a.step", "a.stp", "A.STEP", "b/c.d.Stp", "./-.step"})
    EXPECT_EQ(parse_step_file("-o", text), text);
  for (const char* text : {"a", "a.stl", "a.step.txt", "step", "", "--quiet", "a.step "})
    EXPECT_THROW(parse_step_file("-o", text), UsageError) << text;
}

TEST(ParsePath, RefusesAnOptionTakenForAName) {
  EXPECT_EQ(parse_path("--csv", "-"), "-");
  EXPECT_EQ(parse_path("--csv", "./--quiet"), "./--quiet");
  EXPECT_THROW(parse_path("--csv", "--quiet"), UsageError);
  EXPECT_THROW(parse_path("--csv", ""), UsageError);
}

}  // namespace
}  // namespace eyebrow::cli
