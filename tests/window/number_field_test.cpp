// Stepping a number as it was typed.
#include <gtest/gtest.h>

#include "window/number_field.hpp"

namespace eyebrow::window {
namespace {

TEST(Stepped, CountsTheLastDigit) {
  EXPECT_EQ(stepped("0.041", 1), "0.042");
  EXPECT_EQ(stepped("0.041", -10), "0.031");
  EXPECT_EQ(stepped("104", 1), "105");
  EXPECT_EQ(stepped("0.99", 1), "1.00");
  EXPECT_EQ(stepped("-0.1", 1), "0.0") << "never -0.0";
  EXPECT_EQ(stepped("0", -1), "-1");
  EXPECT_EQ(stepped("+0.855", 1), "+0.856");
  EXPECT_EQ(stepped("+0.1", -2), "-0.1");
}

TEST(Stepped, KeepsTheUnitAndTheReadingError) {
  EXPECT_EQ(stepped("1.04 mm", 1), "1.05 mm");
  EXPECT_EQ(stepped("0.560 in \u00b1 0.005", 1), "0.561 in \u00b1 0.005");
}

TEST(NamesUnit, IsInTheText) {
  for (const std::string text :
       {"1.04 mm", "18 thou", "3-3/4 in", "-0.5\"", "23\u00b0", "29 BTDC", "0.56 in \u00b1 0.01"})
    EXPECT_TRUE(names_unit(text)) << text;
  for (const std::string text : {"1.04", "", "3-3/4", "1e-3", "2E+4", "0.56 \u00b1 0.01", "thick"})
    EXPECT_FALSE(names_unit(text)) << text;
}

TEST(Stepped, LeavesAloneWhatIsNoPlainNumber) {
  for (const std::string text :
       {"", "   ", "wide", "3-3/4 in", "3/4 in", "1e-3", "deepest", ".", "-", "12345678901234567"})
    EXPECT_FALSE(stepped(text, 1)) << text;
}

}  // namespace
}  // namespace eyebrow::window
