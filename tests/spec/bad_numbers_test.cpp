// Numbers with the wrong unit, none, or beyond what an engine can have.
#include <fmt/format.h>

#include "spec/limits.hpp"
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;

class BadNumber : public ::testing::TestWithParam<Slip> {};

TEST_P(BadNumber, GetsOneMessageAtItsPlace) {
  expect_one_fault(GetParam());
}

INSTANTIATE_TEST_SUITE_P(
    Units, BadNumber,
    ::testing::Values(
        // bore 4.03 mm, and the other numbers that inches read as mm show in
        Slip{
            "4.030", "\"4.03 mm\"", "", {"cylinder.bore is 4.03 mm; allowed is 12 to 700 mm", "did you mean 4.03 in?"}},
        Slip{"3.480", "\"3.48 mm\"", "", {"did you mean 3.48 in?"}},
        Slip{"0.041", "\"0.041 mm\"", "", {"gasket.thickness is 0.041 mm", "did you mean 0.041 in?"}},
        Slip{"0.055", "\"0.055 mm\"", "", {"valve.intake.margin", "did you mean 0.055 in?"}},
        Slip{"0.420\ndur", "\"0.42 mm\"\ndur", "\"0.42 mm\"", {"lobe.exhaust.lift", "did you mean 0.42 in?"}},
        Slip{"travel = 0.080", "travel = \"0.08 mm\"", "\"0.08 mm\"", {"asked.intake.travel", "did you mean 0.08 in?"}},
        // and the reverse
        Slip{"4.030",
             "102.4",
             "",
             {"cylinder.bore is 102.4 in; allowed is 0.4724 to 27.56 in", "did you mean 102.4 mm?"}},
        Slip{"6.000", "152.4", "", {"cylinder.rod_length is 152.4 in", "did you mean 152.4 mm?"}},
        Slip{"0.041", "1.04", "", {"gasket.thickness is 1.04 in", "did you mean 1.04 mm?"}},
        Slip{"piston_to_head = 0.040",
             "piston_to_head = 1.0",
             "1.0",
             {"asked.piston_to_head is 1 in", "did you mean 1 mm?"}},
        // unit of the wrong kind
        Slip{"4.030", "\"4.03 deg\"", "", {"cylinder.bore must be a length, found the unit \"deg\""}},
        Slip{"centre   = 104",
             "centre = \"104 mm\"",
             "\"104 mm\"",
             {"lobe.intake.centre must be an angle, found the unit \"mm\""}},
        Slip{"rim_height = 0.560          #",
             "rim_height = \"0.56 rad\" #",
             "\"0.56 rad\"",
             {"must be a length, found the unit \"rad\""}},
        Slip{"4.030", "\"4.03 furlong\"", "", {"cylinder.bore must be a length", "allowed are mm, in"}},
        Slip{"4.030", "\"4,03 in\"", "", {"write a decimal point"}},
        // radians read as degrees' number
        Slip{"centre   = 110", "centre = \"110 rad\"", "\"110 rad\"", {"did you mean 110 deg?"}}));

INSTANTIATE_TEST_SUITE_P(
    Absurd, BadNumber,
    ::testing::Values(
        Slip{"4.030", "0", "0\nstroke", {"cylinder.bore is 0 in; allowed is 0.4724 to 27.56 in"}},
        Slip{"4.030", "-4.030", "", {"cylinder.bore is -4.03 in; allowed is"}},
        Slip{"4.030", "nan", "nan\nstroke", {"cylinder.bore is nan; it must be a finite number"}},
        Slip{"4.030", "inf", "inf\nstroke", {"cylinder.bore is inf; it must be a finite number"}},
        Slip{"4.030", "-inf", "", {"cylinder.bore is -inf"}},
        Slip{"4.030", "1e300", "", {"cylinder.bore is 1e+300 in"}},
        Slip{"0.041", "-0.041", "", {"gasket.thickness is -0.041 in; allowed is 0.003937 to 0.3937 in"}},
        Slip{"milled = 0 ", "milled = -0.01 ", "-0.01", {"head.milled is -0.01 in"}},
        Slip{"2.020", "0", "0\nmargin        = 0.055", {"valve.intake.head_diameter is 0 in"}},
        Slip{"duration = 287.7",
             "duration = 700",
             "700",
             {"lobe.intake.durations.1.duration is 700 deg; allowed is 10 to 540 deg"}},
        Slip{"advance = 0 ", "advance = 100 ", "100 ", {"cam.advance is 100 deg; allowed is -90 to 90 deg"}},
        Slip{"tilt = 23\nlean = 0                    # azimuth that its",
             "tilt = 85\nlean = 0 # azimuth that its",
             "85",
             {"pocket.intake.tilt is 85 deg; allowed is 0 to 60 deg"}},
        Slip{"travel = 0.080", "travel = -0.080", "-0.080", {"asked.intake.travel is -0.08 in; allowed is 0, or"}}));

TEST(BadNumber, NoUnitWhereNoDefaultIsStated) {
  const auto faults = faults_of(wedge_with("units = \"in\"", ""));
  ASSERT_EQ(faults.size(), 5u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], ::testing::MatchesRegex("e.toml: [0-9]+ lengths have no unit, and the file states no default: "
                                                 "write units = \"mm\" or units = \"in\" at the top"));
  EXPECT_THAT(faults[1],
              AllOf(HasSubstr("e.toml:7:18: cylinder.bore is 4.03 with no unit, and the file states no default"),
                    HasSubstr("\"4.03 mm\" or \"4.03 in\"")));
  EXPECT_THAT(faults[4], ::testing::MatchesRegex("e.toml: and [0-9]+ more"));
}

TEST(BadNumber, AWrongDefaultUnitIsBlamedFirstAndInFewLines) {
  auto faults = faults_of(wedge_with("units = \"in\"", "units = \"mm\""));
  ASSERT_EQ(faults.size(), 5u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], AllOf(HasSubstr("e.toml:4:9: the lengths in this file look like inches read as mm"),
                               HasSubstr("set units = \"in\"")));
  EXPECT_THAT(faults[1], HasSubstr("cylinder.bore is 4.03 mm"));
  EXPECT_THAT(faults[4], ::testing::MatchesRegex("e.toml: and [0-9]+ more"));

  const std::string pent_roof = file_text(model_path("four_valve_pent_roof"));
  faults = faults_of(replaced(pent_roof, "units = \"mm\"", "units = \"in\""));
  ASSERT_EQ(faults.size(), 5u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], AllOf(HasSubstr("the lengths in this file look like mm read as inches"),
                               HasSubstr("set units = \"mm\"")));
}

TEST(BadNumber, AFewSlipsOfTheUnitDoNotBlameTheFile) {
  std::string text = wedge_with("4.030", "102.4");
  text = replaced(text, "6.000", "152.4");
  text = replaced(text, "0.041", "1.04");
  text = replaced(text, "piston_to_head = 0.040", "piston_to_head = 1.0");
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 4u) << ::testing::PrintToString(faults);
  for (const std::string& fault : faults) EXPECT_THAT(fault, HasSubstr("did you mean"));
}

TEST(BadNumber, TheLimitItselfIsAllowedInEitherUnit) {
  EXPECT_TRUE(limit_trouble(limit_of("cylinder.bore"), 700, Unit::mm).empty());
  EXPECT_TRUE(limit_trouble(limit_of("cylinder.bore"), 700 / 25.4 * 25.4, Unit::inch).empty());
  EXPECT_FALSE(limit_trouble(limit_of("cylinder.bore"), 700.001, Unit::mm).empty());
  EXPECT_TRUE(limit_trouble(limit_of("valve.*.tilt"), 60 * kDegree, Unit::degree).empty());
  EXPECT_TRUE(limit_trouble(limit_of("asked.piston_to_head"), 0, Unit::mm).empty());
  EXPECT_THROW(limit_of("no.such.key"), std::logic_error);
}

// Every number of every model, spoilt in every way: each is refused by name, and nothing crashes.
TEST(BadNumber, EveryNumberOfEveryModelIsGuarded) {
  int spoilt = 0;
  for (const std::string& model : kModels) {
    const std::string text = file_text(model_path(model));
    const EngineFile good = parsed(text);
    for (const auto& [key, origin] : good.origins) {
      if (origin.unit.empty() && key.find("rocker_ratio") == std::string::npos) continue;  // a word
      const bool angle = origin.unit == "deg";
      for (const std::string& value :
           {std::string("nan"), std::string("inf"), std::string("-1e9"), std::string("1e9"), std::string("abc"),
            std::string("3 kg"), std::string(angle ? "3 mm" : "3 deg")}) {
        const auto faults = faults_of(text, {{key, value}});
        ASSERT_FALSE(faults.empty()) << model << " " << key << "=" << value;
        EXPECT_THAT(faults[0], ::testing::StartsWith("--set: " + key)) << value;
        ++spoilt;
      }
    }
  }
  EXPECT_GT(spoilt, 1500);
}

std::size_t offset(const std::string& text, int line, int column) {
  std::size_t at = 0;
  for (int i = 1; i < line; ++i) at = text.find('\n', at) + 1;
  return at + static_cast<std::size_t>(column) - 1;
}

// Every number that is stated reaches the engine: one a twenty-thousandth off makes another engine.
TEST(BadNumber, NoNumberIsReadInVain) {
  for (const std::string& model : kModels) {
    const std::string text = file_text(model_path(model));
    const EngineFile good = parsed(text);
    const std::string before = dump(good.engine);
    for (const auto& [key, origin] : good.origins) {
      if (origin.unit.empty() && key.find("rocker_ratio") == std::string::npos) continue;  // a word
      // A flush lift beside a rim height only checks it, and a deck sum beside a deck clearance.
      if (key.find("flush_lift") != std::string::npos && text.find("rim_height") != std::string::npos) continue;
      if (key == "cylinder.block_deck_height" || key == "cylinder.compression_height") continue;
      const double stated = std::stod(text.substr(offset(text, origin.line, origin.column)));
      const double near = stated == 0 ? 1e-4 : stated * (1 + 5e-5);
      const EngineFile changed = parsed(text, {{key, fmt::format("{:.17g}", near)}});
      EXPECT_NE(dump(changed.engine), before) << model << ": " << key;
    }
  }
}

}  // namespace
}  // namespace eyebrow::testing
