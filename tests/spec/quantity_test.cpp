#include "spec/quantity.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

Quantity good(const std::string& text) {
  const auto parsed = parse_quantity(text);
  if (const auto* trouble = std::get_if<QuantityTrouble>(&parsed)) {
    ADD_FAILURE() << text << ": " << trouble->what;
    return {};
  }
  return std::get<Quantity>(parsed);
}

std::string bad(const std::string& text) {
  const auto parsed = parse_quantity(text);
  const auto* trouble = std::get_if<QuantityTrouble>(&parsed);
  EXPECT_NE(trouble, nullptr) << text;
  return trouble ? trouble->what : "";
}

TEST(Quantity, ReadsEveryWayToWriteAUnit) {
  struct Case {
    const char* text;
    double number;
    Unit unit;
  };
  for (const Case& c :
       {Case{"4.03", 4.03, Unit::none}, Case{"0.041 in", 0.041, Unit::inch}, Case{"1.04mm", 1.04, Unit::mm},
        Case{"  +2 inch ", 2, Unit::inch}, Case{"2 inches", 2, Unit::inch}, Case{"-0.5\"", -0.5, Unit::inch},
        Case{"23 deg", 23, Unit::degree}, Case{"23 degrees", 23, Unit::degree}, Case{"23\u00b0", 23, Unit::degree},
        Case{"0.4 rad", 0.4, Unit::radian}, Case{"18 thou", 0.018, Unit::inch}, Case{"1e-2 in", 0.01, Unit::inch},
        Case{".5 mm", 0.5, Unit::mm}}) {
    const Quantity q = good(c.text);
    EXPECT_EQ(q.number, c.number) << c.text;
    EXPECT_EQ(q.unit, c.unit) << c.text;
  }
}

// As rules and drill charts have them; closed form.
TEST(Quantity, ReadsFractions) {
  for (const char* text : {"3 3/4 in", "3-3/4 in", "+3-3/4in", "3  3/4\"", "15/4 in", "3.75 in"}) {
    EXPECT_EQ(good(text).number, 3.75) << text;
    EXPECT_EQ(good(text).unit, Unit::inch) << text;
  }
  EXPECT_EQ(good("1/32 in").number, 0.03125);
  EXPECT_EQ(good("-3-3/4").number, -3.75);
  EXPECT_EQ(good("-3-3/4").unit, Unit::none);
  EXPECT_EQ(good("0/8 in").number, 0);
  for (const char* text : {"3/0 in", "3 5/4 in", "3-4/4"}) EXPECT_THAT(bad(text), ::testing::HasSubstr("no fraction"));
  for (const char* text : {"3/ in", "3-/4", "3 - 3/4", "3 3", "3-3", "3/4/5", "3--3/4", "1.5/2 in", "1 1.5/2"})
    EXPECT_FALSE(bad(text).empty()) << text;
}

TEST(Quantity, SaysWhatIsWrong) {
  EXPECT_THAT(bad("four"), ::testing::HasSubstr("\"four\" is not a number"));
  EXPECT_THAT(bad(""), ::testing::HasSubstr("empty"));
  EXPECT_THAT(bad("   "), ::testing::HasSubstr("empty"));
  EXPECT_THAT(bad("4 cm"), ::testing::HasSubstr("allowed are mm, in"));
  EXPECT_THAT(bad("4,03 in"), ::testing::HasSubstr("decimal point"));
  EXPECT_THAT(bad("1e999"), ::testing::HasSubstr("beyond"));
  EXPECT_THAT(bad("+-4"), ::testing::HasSubstr("not a number"));
  EXPECT_THAT(bad("+"), ::testing::HasSubstr("not a number"));
  EXPECT_THAT(bad("in"), ::testing::HasSubstr("not a number"));
  EXPECT_THAT(bad("4 in in"), ::testing::HasSubstr("allowed are"));
}

QuantityAndError good_with_error(const std::string& text) {
  const auto parsed = parse_with_error(text, Measure::length);
  if (const auto* trouble = std::get_if<QuantityTrouble>(&parsed)) {
    ADD_FAILURE() << text << ": " << trouble->what;
    return {};
  }
  return std::get<QuantityAndError>(parsed);
}

TEST(Quantity, ReadsAnErrorInEveryWayToWriteIt) {
  struct Case {
    const char* text;
    double number;
    Unit unit;
    double error;
    Unit error_unit;
  };
  for (const Case& c : {Case{"0.560 in \u00b1 0.005", 0.56, Unit::inch, 0.005, Unit::none},
                        Case{"0.560 in \u00b1 0.005 in", 0.56, Unit::inch, 0.005, Unit::inch},
                        Case{"0.560\u00b10.005", 0.56, Unit::none, 0.005, Unit::none},
                        Case{"-0.5 +- 1e-3", -0.5, Unit::none, 0.001, Unit::none},
                        Case{"14mm+/-.005in", 14, Unit::mm, 0.005, Unit::inch},
                        Case{"3-3/4 \u00b1 1/64 in", 3.75, Unit::none, 0.015625, Unit::inch},
                        Case{" 4 \u00b1 +0 ", 4, Unit::none, 0, Unit::none}}) {
    const QuantityAndError q = good_with_error(c.text);
    EXPECT_EQ(q.value.number, c.number) << c.text;
    EXPECT_EQ(q.value.unit, c.unit) << c.text;
    ASSERT_TRUE(q.error) << c.text;
    EXPECT_EQ(q.error->number, c.error) << c.text;
    EXPECT_EQ(q.error->unit, c.error_unit) << c.text;
  }
  for (const char* text : {"4.03", "-0.5 in", "3-3/4 in", "1e-2", "+4"})
    EXPECT_FALSE(good_with_error(text).error) << text;
}

TEST(Quantity, SaysWhatIsWrongWithAnError) {
  const auto bad_error = [](const std::string& text) {
    const auto parsed = parse_with_error(text, Measure::length);
    const auto* trouble = std::get_if<QuantityTrouble>(&parsed);
    EXPECT_NE(trouble, nullptr) << text;
    return trouble ? trouble->what : "";
  };
  using ::testing::HasSubstr;
  EXPECT_THAT(bad_error("4 \u00b1"), HasSubstr("\"4 \u00b1\" has nothing behind its \u00b1"));
  EXPECT_THAT(bad_error("+-4"), HasSubstr("has no number before its \u00b1"));
  EXPECT_THAT(bad_error("4 \u00b1 1 +- 1"), HasSubstr("has two \u00b1"));
  EXPECT_THAT(bad_error("4 \u00b1 one"), HasSubstr("behind its \u00b1, \"one\" is not a number"));
  EXPECT_THAT(bad_error("4 \u00b1 1 cm"), HasSubstr("behind its \u00b1, \"1 cm\" has no unit that is known here"));
  EXPECT_THAT(bad_error("four \u00b1 1"), HasSubstr("\"four\" is not a number"));
  EXPECT_FALSE(bad_error("\u00b1").empty());
}

// Published: avoirdupois pound 0.45359237 kg, exactly (international yard and pound agreement, 1959); 16 oz to the
// pound; 1 psi = 6894.757 Pa (NIST SP 811, table of factors: memory); 180 degrees F span 100 degrees C.
TEST(Quantity, UnitsOfMassAreaModulusAndWarmth) {
  struct Case {
    const char* text;
    double internal;
    Measure measure;
  };
  for (const Case& c : {Case{"0.48 kg", 0.48, Measure::mass}, Case{"480 g", 0.48, Measure::mass},
                        Case{"1 lb", 0.45359237, Measure::mass}, Case{"16 oz", 0.45359237, Measure::mass},
                        Case{"250 mm2", 250, Measure::area}, Case{"2.5 cm^2", 250, Measure::area},
                        Case{"1 in2", 645.16, Measure::area}, Case{"207 GPa", 207e3, Measure::modulus},
                        Case{"207000 N/mm2", 207e3, Measure::modulus}, Case{"1e6 psi", 6894.757, Measure::modulus},
                        Case{"80 K", 80, Measure::warmth}, Case{"80 C", 80, Measure::warmth},
                        Case{"180 F", 100, Measure::warmth}, Case{"23.4e-6 /K", 23.4e-6, Measure::expansion},
                        Case{"12/K", 12, Measure::expansion}, Case{"10e-6 /F", 18e-6, Measure::expansion}}) {
    const Quantity q = good(c.text);
    EXPECT_EQ(measure_of(q.unit), c.measure) << c.text;
    EXPECT_NEAR(q.number * factor(q.unit), c.internal, 1e-7 * c.internal) << c.text;
  }
  EXPECT_THAT(bad("3 stone"), ::testing::HasSubstr("allowed are mm, in"));
  const auto stone = parse_quantity("3 stone", Measure::mass);
  ASSERT_TRUE(std::holds_alternative<QuantityTrouble>(stone));
  EXPECT_THAT(std::get<QuantityTrouble>(stone).what, ::testing::HasSubstr("allowed are kg, g, lb, oz"));
}

// Published: the inch is 25.4 mm exactly (international yard and pound agreement, 1959).
TEST(Quantity, AnInchIs25Point4Millimetres) {
  EXPECT_EQ(factor(Unit::inch), 25.4);
  EXPECT_EQ(factor(Unit::mm), 1.0);
  EXPECT_DOUBLE_EQ(180 * factor(Unit::degree), 3.14159265358979323846);  // closed form
}

TEST(Quantity, TextAndBackIsTheSameNumber) {
  for (const Unit unit : {Unit::mm, Unit::inch, Unit::degree, Unit::radian}) {
    for (const double value : {0.0, 0.041, -1.5, 4.03, 102.362, 900.0}) {
      const Quantity back = good(quantity_text(value, unit));
      EXPECT_EQ(back.unit, unit);
      EXPECT_NEAR(back.number * factor(unit), value, 1e-5 * std::fabs(value));  // six digits
    }
  }
}

// The same engine written in inches, in mm, and with a unit at every number without a default.
TEST(Quantity, TheUnitOfTheFileDoesNotChangeTheEngine) {
  const std::string in = wedge();
  const Engine inches = parsed(in).engine;
  std::string mm;
  std::string each;
  // Every "key = number" of a length gets its number in mm; angles, ratios and durations keep theirs.
  const std::vector<std::string> plain = {"tilt", "lean", "advance", "centre", "seat_angle", "rocker_ratio"};
  std::size_t from = 0;
  while (from < in.size()) {
    const auto end = std::min(in.find('\n', from), in.size());
    std::string line = in.substr(from, end - from);
    from = end + 1;
    std::string with_mm = line, with_unit = line;
    const auto equals = line.find(" = ");
    const std::string key = line.substr(0, line.find(' '));
    const bool length = !key.empty() && key != "durations" && equals != std::string::npos &&
                        line.find_first_of("0123456789", equals) == line.find_first_not_of(" +-", equals + 3) &&
                        std::find(plain.begin(), plain.end(), key) == plain.end();
    if (length) {
      const auto begin = line.find_first_not_of(" ", equals + 3);
      const auto stop = std::min(line.find_first_of(" #", begin), line.size());
      const std::string number = line.substr(begin, stop - begin);
      with_mm = line.substr(0, begin) + fmt::format("{:.17g}", std::stod(number) * 25.4) + line.substr(stop);
      with_unit = line.substr(0, begin) + "\"" + number + " in\"" + line.substr(stop);
    }
    mm += with_mm + "\n";
    each += with_unit + "\n";
  }
  const auto durations = [](std::string text, const std::string& unit, double scale) {
    for (const char* at : {"0.020", "0.050", "0.100", "0.200", "0.300"}) {
      const std::string old = std::string("at = ") + at + ",";
      const std::string now =
          unit.empty() ? fmt::format("at = {:.17g},", std::stod(at) * scale) : fmt::format("at = \"{}{}\",", at, unit);
      for (auto found = text.find(old); found != std::string::npos; found = text.find(old))
        text.replace(found, old.size(), now);
    }
    return text;
  };
  mm = replaced(durations(mm, "", 25.4), "units = \"in\"", "units = \"mm\"");
  each = replaced(durations(each, " in", 1), "units = \"in\"", "");
  Engine from_mm = parsed(mm).engine, from_each = parsed(each).engine;
  EXPECT_EQ(from_mm.units, LengthUnit::mm);
  EXPECT_EQ(from_each.units, LengthUnit::inch) << "with no default the output follows the bore";
  from_mm.units = LengthUnit::inch;
  EXPECT_EQ(dump(from_mm), dump(inches));
  EXPECT_EQ(dump(from_each), dump(inches));
}

}  // namespace
}  // namespace eyebrow::testing
