// Numbers and places as words. Expected values: closed form (degrees, inches of 25.4 mm, hours of 30 degrees).
#include "report/words.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace eyebrow {
namespace {

TEST(CrankText, NamesTheSideOfOverlapTdc) {
  EXPECT_EQ(crank_text(12.5 * kDegree), "12.5 ATDC");
  EXPECT_EQ(crank_text(-8 * kDegree), "8.0 BTDC");
  EXPECT_EQ(crank_text(0), "0.0 TDC");
  EXPECT_EQ(crank_text(180 * kDegree), "180.0 ATDC");
  EXPECT_EQ(crank_text(-12.345 * kDegree, 2), "12.35 BTDC");
  EXPECT_EQ(crank_text(12 * kDegree, 0), "12 ATDC");
}

TEST(CrankText, HasNoNegativeZeroAndNoSideOfZero) {
  EXPECT_EQ(crank_text(-0.0), "0.0 TDC");
  EXPECT_EQ(crank_text(-0.04 * kDegree), "0.0 TDC");
  EXPECT_EQ(crank_text(0.04 * kDegree), "0.0 TDC");
  EXPECT_EQ(crank_text(-0.06 * kDegree), "0.1 BTDC");
}

TEST(CrankText, WrapsIntoOneCycleOfTwoTurns) {
  EXPECT_EQ(crank_text(360 * kDegree), "360.0 ATDC");
  EXPECT_EQ(crank_text(-360 * kDegree), "360.0 ATDC") << "the same place";
  EXPECT_EQ(crank_text(-359.97 * kDegree), "360.0 ATDC");
  EXPECT_EQ(crank_text(-359.9 * kDegree), "359.9 BTDC");
  EXPECT_EQ(crank_text(370 * kDegree), "350.0 BTDC");
  EXPECT_EQ(crank_text(725 * kDegree), "5.0 ATDC");
  EXPECT_EQ(crank_text(-1445 * kDegree), "5.0 BTDC");
  EXPECT_EQ(crank_text(720 * kDegree), "0.0 TDC");
}

TEST(CrankText, IsEmptyWhenThereIsNoAngle) {
  EXPECT_EQ(crank_text(NAN), "");
  EXPECT_EQ(crank_text(INFINITY), "");
}

TEST(ClockText, RoundsToAQuarterOfAnHour) {
  EXPECT_EQ(clock_text(4.5), "4:30 o'clock");
  EXPECT_EQ(clock_text(4.6), "4:30 o'clock");
  EXPECT_EQ(clock_text(4.63), "4:45 o'clock");
  EXPECT_EQ(clock_text(6), "6 o'clock");
  EXPECT_EQ(clock_text(0), "12 o'clock");
  EXPECT_EQ(clock_text(0.25), "12:15 o'clock");
  EXPECT_EQ(clock_text(11.95), "12 o'clock");
}

TEST(DegreesText, DropsTrailingZeros) {
  EXPECT_EQ(degrees_text(kDegree), "1");
  EXPECT_EQ(degrees_text(0.5 * kDegree), "0.5");
  EXPECT_EQ(degrees_text(-360 * kDegree), "-360");
  EXPECT_EQ(degrees_text(-0.0), "0");
  EXPECT_EQ(degrees_text(-1e-9), "0");
}

TEST(Lengths, HaveTheDecimalsOfTheirUnit) {
  const Lengths mm({LengthUnit::mm, -1}), inch({LengthUnit::inch, -1}), fine({LengthUnit::mm, 4});
  EXPECT_EQ(mm.gap(2.5), "2.50");
  EXPECT_EQ(inch.gap(2.54), "0.100");
  EXPECT_EQ(fine.gap(2.5), "2.5000");
  EXPECT_EQ(inch.place(24.9), "0.98");
  EXPECT_EQ(mm.place(24.94), "24.9");
  EXPECT_STREQ(inch.unit(), "in");
  EXPECT_STREQ(mm.unit(), "mm");
  EXPECT_EQ(Lengths({LengthUnit::mm, 0}).gap(2.99), "2");
}

TEST(Lengths, VolumesHaveThreeFiguresAndTheirErrorsOne) {
  const Lengths mm({LengthUnit::mm, -1}), inch({LengthUnit::inch, -1});
  EXPECT_EQ(mm.volume(12.345), "12.3 mm3");
  EXPECT_EQ(mm.volume(1234.5), "1235 mm3");
  EXPECT_EQ(mm.volume(0), "0 mm3");
  EXPECT_EQ(inch.volume(16387.064), "1.00 in3");  // 25.4^3, exact
  EXPECT_EQ(inch.volume(12.345), "0.000753 in3");
  EXPECT_EQ(mm.volume_error(0.0123), "0.02 mm3");
  EXPECT_EQ(mm.volume_error(0.02), "0.02 mm3");
  EXPECT_EQ(mm.volume_error(12.1), "13 mm3");
}

TEST(Lengths, RoundGapsDownAndRequirementsUp) {
  const Lengths mm({LengthUnit::mm, -1});
  EXPECT_EQ(mm.gap(1.239), "1.23");
  EXPECT_EQ(mm.gap(-1.231), "-1.24");
  EXPECT_EQ(mm.required(1.231), "1.24");
  EXPECT_EQ(mm.plain(1.236), "1.24");
  EXPECT_EQ(mm.plain(-0.001), "0.00");
}

TEST(Lengths, NeverPrintALackAsNothing) {
  // -0.0004 in of margin must not read 0.000.
  EXPECT_EQ(Lengths({LengthUnit::inch, -1}).gap(-0.0004 * kInch), "-0.001");
  EXPECT_EQ(Lengths({LengthUnit::mm, -1}).gap(-1e-15), "-0.01");
  EXPECT_EQ(Lengths({LengthUnit::mm, -1}).gap(-0.0), "0.00");
}

TEST(Lengths, SurviveTheChangeOfUnits) {
  // n thousandths of an inch, kept in mm, read as n thousandths again: no step down through noise.
  const Lengths inch({LengthUnit::inch, -1});
  for (int n = 0; n <= 5000; ++n) {
    const std::string expected = std::to_string(n / 1000) + "." + std::to_string(1000 + n % 1000).substr(1);
    ASSERT_EQ(inch.gap(n * 0.001 * 25.4), expected);
    ASSERT_EQ(inch.required(n * 0.001 * 25.4), expected);
    ASSERT_EQ(inch.plain(n * 0.001 * 25.4), expected);
  }
}

TEST(Lengths, AreEmptyWhenThereIsNone) {
  const Lengths mm({LengthUnit::mm, -1});
  for (const double none : {NAN, INFINITY, -INFINITY}) {
    EXPECT_EQ(mm.gap(none), "");
    EXPECT_EQ(mm.required(none), "");
    EXPECT_EQ(mm.plain(none), "");
    EXPECT_EQ(mm.place(none), "");
  }
}

// For random gaps: what is printed is no more than there is, no further off than one last decimal, and a printed
// requirement is no less than what is asked. The slack is the noise that words.cpp allows: 1e-6 of a decimal.
TEST(Lengths, PrintedGapNeverExceedsTheExactOne) {
  std::mt19937 random(20240501);
  std::uniform_real_distribution<double> wide(-30, 300), narrow(-0.05, 0.05);
  for (const Format format : {Format{LengthUnit::mm, -1}, Format{LengthUnit::inch, -1}, Format{LengthUnit::mm, 0},
                              Format{LengthUnit::inch, 5}, Format{LengthUnit::mm, 6}}) {
    const Lengths lengths(format);
    const double per_mm = format.units == LengthUnit::inch ? 1 / 25.4 : 1;
    const int digits = format.digits >= 0 ? format.digits : format.units == LengthUnit::inch ? 3 : 2;
    const double decimal = std::pow(10, -digits), slack = 1.01e-6 * decimal + 1e-13;
    for (int i = 0; i < 20000; ++i) {
      const double mm = i % 2 ? wide(random) : narrow(random);
      const double exact = mm * per_mm;
      const double gap = std::stod(lengths.gap(mm)), required = std::stod(lengths.required(mm));
      ASSERT_LE(gap, exact + slack) << mm;
      ASSERT_GT(gap, exact - decimal - slack) << mm;
      ASSERT_GE(required, exact - slack) << mm;
      ASSERT_LT(required, exact + decimal + slack) << mm;
      ASSERT_EQ(gap < 0, mm < 0) << mm;
      ASSERT_EQ(lengths.gap(mm).find("-0.00000000"), std::string::npos);
    }
  }
}

}  // namespace
}  // namespace eyebrow
