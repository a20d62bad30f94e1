// What to write instead where the text stops being TOML: a line of its own, with its place.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

struct Advice {
  std::string from, to, advice;  // the advice with its place
};

TEST(TomlHint, SaysWhatToWrite) {
  const std::string inches = "\u201c", after = "\u201d";
  for (const Advice& slip : {
           Advice{"4.030", "4,125", "e.toml:7:18: write a decimal point: 4.125"},
           Advice{"= 0.041", "= .039", "e.toml:15:13: write the zero before the point: 0.039"},
           Advice{"+0.861", "+.861", "e.toml:29:5: write the zero before the point: +0.861"},
           Advice{"4.030", "4.", "e.toml:7:18: write a digit after the point: 4.0"},
           Advice{"4.030", "04.030", "e.toml:7:18: write the number without zeros in front: 4.030"},
           Advice{"4.030", "4.030 in", "e.toml:7:18: a number with a unit stands in quotes: \"4.030 in\""},
           Advice{"4.030", "4.030 \u00b1 0.001",
                  "e.toml:7:18: a number with its reading error stands in quotes: \"4.030 \u00b1 0.001\""},
           Advice{"4.030", "4.030 in +/- 0.001 in",
                  "e.toml:7:18: a number with its reading error stands in quotes: \"4.030 in \u00b1 0.001 in\""},
           Advice{"duration = 287.7", "duration = 287.7+-1", "stands in quotes: \"287.7 \u00b1 1\""},
           Advice{"4.030", "\u00b1 0.002 in", "e.toml:7:18: a tolerance stands in quotes: \"\u00b1 0.002 in\""},
           Advice{"4.030", "102mm", "e.toml:7:18: a number with a unit stands in quotes: \"102 mm\""},
           Advice{"4.030", "4.030\"", "e.toml:7:18: write the unit as a word and both in quotes: \"4.030 in\""},
           Advice{"4.030", "3 3/4 in", "e.toml:7:18: a number with a unit stands in quotes: \"3 3/4 in\""},
           Advice{"4.030", "3-3/4", "e.toml:7:18: a fraction stands in quotes, with its unit: \"3-3/4 in\""},
           Advice{"centre   = 104 ", "centre = 104\u00b0 ",
                  "e.toml:49:10: a number with a unit stands in quotes: \"104 \u00b0\""},
           Advice{"4.030", inches + "4.030 in" + after, "e.toml:7:18: write straight quotes, \", on both sides"},
           Advice{"\"clockwise\"", inches + "clockwise" + after, "e.toml:11:18: write straight quotes"},
           Advice{"\"clockwise\"", "clockwise", "e.toml:11:18: a word stands in quotes: \"clockwise\""},
           Advice{"units = \"in\"", "units = in", "e.toml:4:9: a word stands in quotes: \"in\""},
           Advice{"[gasket]", "[gasket", "e.toml:14:1: close the table's header with a bracket: [gasket]"},
           Advice{"[gasket]", "gasket]", "e.toml:14:1: open the table's header with a bracket: [gasket]"},
           Advice{
               "[pocket.exhaust]", "pocket.exhaust",
               "e.toml:36:1: a table's header stands in brackets: [pocket.exhaust]; a value as pocket.exhaust = ..."},
           Advice{"margin        = 0.055", "margin        0.055",
                  "e.toml:65:1: write = between the key and its value: margin = 0.055"},
           Advice{"at = 0.020, duration = 287.7", "at = 0,020, duration = 287.7",
                  "e.toml:52:22: write a decimal point: 0.020"},
           Advice{"at = 0.020, duration = 287.7", "at = 0.020 in, duration = 287.7",
                  "e.toml:52:22: a number with a unit stands in quotes: \"0.020 in\""},
           // The header of the second pocket is lost: its keys fall to the first.
           Advice{"[pocket.exhaust]\n", "\n", "\"x\" stands twice in [pocket.intake]: take one out; or has the header"},
           Advice{"[gasket]\n", "\n", "\"bore\" stands twice in [cylinder]: take one out; or has the header"},
       }) {
    const auto faults = faults_of(wedge_with(slip.from, slip.to));
    ASSERT_EQ(faults.size(), 2u) << slip.to << ::testing::PrintToString(faults);
    EXPECT_THAT(faults[0], HasSubstr("not valid TOML: ")) << slip.to;
    EXPECT_THAT(faults[1], HasSubstr(slip.advice)) << slip.to;
  }
}

TEST(TomlHint, ReadsNoRemarkAndNoQuotedText) {
  const auto faults = faults_of("name = \"4,5\" x # a = 1,2\n");
  ASSERT_FALSE(faults.empty());
  for (const std::string& fault : faults) EXPECT_THAT(fault, Not(HasSubstr("decimal point")));
}

TEST(TomlHint, IsNotGivenWhereNoneIsKnown) {
  EXPECT_EQ(faults_of("= 3").size(), 1u);
  EXPECT_EQ(faults_of("a = \"open\n").size(), 1u);
  EXPECT_EQ(faults_of("a = 1,5" + std::string(100000, ' ') + "x").size(), 1u) << "too long to look at";
}

}  // namespace
}  // namespace eyebrow::testing
