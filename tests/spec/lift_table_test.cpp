// Lift readings from a CSV file.
#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <functional>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

class LiftTableFile : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::temp_directory_path() / ("eyebrow_lift_" + std::to_string(getpid()));
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  /// The wedge whose intake lobe is read from a table beside it.
  std::string engine(const std::string& keys = "table_degrees = \"cam\"\ntable_angles = \"from centre\"\n") {
    const std::string text = wedge();
    const auto from = text.find("lift     = 0.430"), to = text.find("[lobe.exhaust]");
    return text.substr(0, from) + "table = \"lobe.csv\"\n" + keys + "\n" + text.substr(to);
  }
  void write(const std::string& csv) { std::ofstream(folder_ / "lobe.csv", std::ios::binary) << csv; }
  std::string path() const { return (folder_ / "engine.toml").string(); }
  std::string csv_path() const { return (folder_ / "lobe.csv").string(); }

  std::vector<std::string> faults(const std::string& csv, const std::string& text) {
    write(csv);
    try {
      parse_engine(text, path());
    } catch (const InputError& error) {
      std::vector<std::string> out;
      for (const Fault& fault : error.faults()) {
        std::string line = to_string(fault);
        for (auto at = line.find(folder_.string() + "/"); at != std::string::npos;
             at = line.find(folder_.string() + "/"))
          line.erase(at, folder_.string().size() + 1);
        out.push_back(line);
      }
      return out;
    }
    return {};
  }
  std::vector<std::string> faults(const std::string& csv) { return faults(csv, engine()); }

  Lobe lobe(const std::string& csv, const std::string& text) {
    write(csv);
    return parse_engine(text, path()).engine.lobes[0];
  }

  std::filesystem::path folder_;
};

/// A smooth bump of readings, `step` apart from -span to span.
std::string bump(double span, double step, double peak,
                 const std::function<std::string(int, double, double)>& row = {}) {
  std::string csv;
  int i = 0;
  for (double a = -span; a <= span + 1e-9; a += step, ++i) {
    const double c = std::cos(a / span * kPi / 2);
    const double lift = std::fabs(a) >= span - 1e-9 ? 0 : peak * c * c;
    csv += row ? row(i, a, lift) : fmt::format("{},{:.6f}\n", a, lift);
  }
  return csv;
}

TEST_F(LiftTableFile, CamDegreesFromTheCentreBecomeCrankRadians) {
  const Lobe read = lobe("# a remark\nangle,lift\n" + bump(70, 2, 0.430), engine());
  ASSERT_TRUE(read.table);
  EXPECT_TRUE(read.table->about_centre);
  ASSERT_EQ(read.table->angle.size(), 71u);
  EXPECT_NEAR(read.table->angle.front(), -140 * kDegree, 1e-12) << "a cam turns once for two turns of the crank";
  EXPECT_NEAR(read.table->angle.back(), 140 * kDegree, 1e-12);
  EXPECT_NEAR(read.table->lift[35], 0.430 * 25.4, 1e-9);
  EXPECT_NEAR(read.lift, 0.430 * 25.4, 1e-9) << "the greatest lift is the table's";
}

TEST_F(LiftTableFile, CrankAnglesPlaceTheLobeByThemselves) {
  const std::string keys = "table_degrees = \"crank\"\ntable_angles = \"crank angle\"\nlift_unit = \"mm\"\n";
  const std::string text = replaced(engine(keys), "centre   = 104 ", "#");
  const Lobe read =
      lobe(bump(140, 2, 10.9, [](int, double a, double l) { return fmt::format("{}; {}\r\n", a + 104, l); }), text);
  ASSERT_TRUE(read.table);
  EXPECT_FALSE(read.table->about_centre);
  EXPECT_NEAR(read.table->angle.front(), -36 * kDegree, 1e-12);
  EXPECT_NEAR(read.table->lift[70], 10.9, 1e-9);
  EXPECT_FALSE(read.table->stated_centre);
  const Lobe both = lobe(bump(140, 2, 10.9), engine(keys));
  ASSERT_TRUE(both.table);
  EXPECT_NEAR(both.table->stated_centre.value_or(0), 104 * kDegree, 1e-12) << "to be compared with the table's own";
}

TEST_F(LiftTableFile, SeparatorsHeadersAndRemarks) {
  for (const char* form : {"{},{}\n", "{};{}\n", "{}\t{}\n", "  {}  {}  \n", "{} , {}\r\n", "+{},{}\n"}) {
    const std::string csv = bump(70, 2, 0.43, [&](int i, double a, double l) {
      const bool plus = form[0] == '+' && a < 0;
      return (i == 3 ? "# remark\n\n" : "") + fmt::format(fmt::runtime(plus ? form + 1 : form), a, l);
    });
    EXPECT_TRUE(lobe(csv, engine()).table) << form;
    EXPECT_TRUE(lobe("\xEF\xBB\xBF"
                     "deg lift of lobe\n" +
                         csv,
                     engine())
                    .table)
        << "with a byte-order mark and a header";
  }
}

TEST_F(LiftTableFile, NotSorted) {
  const std::string csv =
      bump(70, 2, 0.43, [](int i, double a, double l) { return fmt::format("{},{}\n", i == 10 ? a - 4 : a, l); });
  EXPECT_THAT(faults(csv),
              ElementsAre("lobe.csv:11: angle -54 after -52, where the rows rise: they go one way all along, "
                          "each angle once, and pass the wheel's 360 to go on"));
  const std::string twice =
      bump(70, 2, 0.43, [](int i, double a, double l) { return fmt::format("{},{}\n", i == 10 ? a - 2 : a, l); });
  EXPECT_THAT(faults(twice), ElementsAre(HasSubstr("lobe.csv:11: angle -52 after -52")));
}

/// A whole turn of the cam every 2 degrees, nose at 0: rows from `first` on, `step` (2 or -2) at a time.
std::string whole_turn(int first, int step, bool closed) {
  std::string csv;
  for (int i = 0; i < 180 + closed; ++i) {
    const int angle = ((first + i * step) % 360 + 360) % 360, from_nose = angle > 180 ? angle - 360 : angle;
    const double c = std::cos(from_nose / 70.0 * kPi / 2);
    csv += fmt::format("{},{:.4f}\n", angle, std::abs(from_nose) < 70 ? 0.43 * c * c : 0);
  }
  return csv;
}

TEST_F(LiftTableFile, AnyStartAndEitherWay) {
  for (const int first : {0, 30, 320, 90, 180, 280}) {
    for (const int step : {2, -2}) {
      for (const bool closed : {false, true}) {
        SCOPED_TRACE(fmt::format("{} {} {}", first, step, closed));
        const Lobe read = lobe(whole_turn(first, step, closed), engine());
        ASSERT_TRUE(read.table);
        ASSERT_EQ(read.table->angle.size(), 180u + closed);
        for (std::size_t i = 0; i < read.table->angle.size(); ++i) {
          if (i > 0) {
            EXPECT_NEAR(read.table->angle[i] - read.table->angle[i - 1], 4 * kDegree, 1e-12);
          }
          const double from_nose = std::remainder(read.table->angle[i], 4 * kPi) / (140 * kDegree);
          const double c = std::cos(from_nose * kPi / 2);
          EXPECT_NEAR(read.table->lift[i], std::fabs(from_nose) < 1 ? 0.43 * 25.4 * c * c : 0, 0.00005 * 25.4 * 1.01);
        }
      }
    }
  }
  // A part of a turn that passes 360, with nothing read on the base circle between its ends.
  std::string part = "0,0.4300\n";
  for (int d = 5; d <= 75; d += 5) part += fmt::format("{},{:.4f}\n", d, d < 70 ? 0.43 * (1 - d / 70.0) : 0);
  for (int d = 285; d < 360; d += 5) part += fmt::format("{},{:.4f}\n", d, d > 290 ? 0.43 * (d - 290) / 70.0 : 0);
  EXPECT_EQ(lobe(part, engine()).table->angle.size(), 31u);
  const std::string twice = whole_turn(180, 2, true) + "182,0\n184,0\n";
  EXPECT_THAT(faults(twice), ElementsAre(AllOf(HasSubstr("lobe.csv:182: here the rows have gone 724 crank degrees on"),
                                               HasSubstr("table_degrees \"crank\"?"))));
}

TEST_F(LiftTableFile, AWholeTurnOfCamDegreesReadAsCrankDegrees) {
  const auto found =
      faults(whole_turn(0, 2, false), engine("table_degrees = \"crank\"\ntable_angles = \"from centre\"\n"));
  ASSERT_EQ(found.size(), 2u);
  EXPECT_THAT(found[0], HasSubstr("its rows span 360 crank degrees, half a turn of the cam; are they cam degrees?"));
}

TEST_F(LiftTableFile, TheReadingErrorIsStatedOrHalfTheLastDigit) {
  const std::string keys = "table_degrees = \"cam\"\ntable_angles = \"from centre\"\n";
  const auto written = [](const char* form) {
    return bump(70, 2, 0.43, [form](int, double a, double l) { return fmt::format(fmt::runtime(form), a, l); });
  };
  EXPECT_NEAR(lobe(written("{},{:.3f}\n"), engine()).table->reading_error, 0.0005 * 25.4, 1e-12);
  EXPECT_NEAR(lobe(written("{},{:.4f}\n"), engine()).table->reading_error, 0.00005 * 25.4, 1e-12);
  EXPECT_NEAR(lobe(written("{},{:.3e}\n"), engine()).table->reading_error, 0.0005, 1e-12) << "the finest: half a um";
  EXPECT_NEAR(lobe(written("{},{:.3f}\n"), engine(keys + "reading_error = 0.001\n")).table->reading_error, 0.0254,
              1e-12);
  EXPECT_THAT(faults(written("{},{:.2f}\n")), ElementsAre(HasSubstr("state the reading_error that they have")));
  EXPECT_THAT(faults(written("{},{:.2f}\n"), engine(keys + "reading_error = 0.0015\n")), ::testing::IsEmpty());
  EXPECT_THAT(faults(written("{},{:.3f}\n"), engine(keys + "reading_error = 0\n")),
              ElementsAre(HasSubstr("lobe.intake.reading_error is 0 in; allowed is")));
}

TEST_F(LiftTableFile, Gaps) {
  // 12 cam degrees = 24 crank degrees are missing.
  const std::string csv = bump(
      70, 2, 0.43, [](int i, double a, double l) { return i >= 20 && i < 25 ? "" : fmt::format("{},{}\n", a, l); });
  EXPECT_THAT(faults(csv),
              ElementsAre(HasSubstr("lobe.csv:21: a gap of 24 crank degrees before this row; allowed is 20")));
  const std::string fine = bump(70, 0.25, 0.43, [](int i, double a, double l) {
    return i >= 100 && i < 112 ? "" : fmt::format("{},{}\n", a, l);
  });
  EXPECT_THAT(faults(fine),
              ElementsAre(HasSubstr(
                  "lobe.csv:101: a gap of 6.5 crank degrees before this row; allowed is 5 (10 times the usual step")));
  EXPECT_THAT(faults(bump(70, 10, 0.43)), ::testing::IsEmpty()) << "20 crank degrees";
}

TEST_F(LiftTableFile, Negative) {
  const std::string csv =
      bump(70, 2, 0.43, [](int i, double a, double l) { return fmt::format("{},{}\n", a, i == 1 ? -0.005 : l); });
  EXPECT_THAT(
      faults(csv),
      ElementsAre(HasSubstr("lobe.csv:2:5: lift -0.005 is negative by more than a base circle's run-out, 0.0039")));
}

TEST_F(LiftTableFile, NoBaseCircle) {
  const std::string csv =
      bump(70, 2, 0.43, [](int, double a, double l) { return l < 0.02 ? "" : fmt::format("{},{}\n", a, l); });
  const auto found = faults(csv);
  ASSERT_EQ(found.size(), 2u);
  EXPECT_THAT(found[0], HasSubstr("the first lift is 0.02"));
  EXPECT_THAT(found[0], HasSubstr("the table must start and end on the base circle, at 0.0019685 in or less"));
  EXPECT_THAT(found[1], HasSubstr("the last lift is"));
}

TEST_F(LiftTableFile, TextInIt) {
  const std::string csv = bump(70, 2, 0.43, [](int i, double a, double l) {
    return i == 7    ? "-56,high\n"
           : i == 8  ? "x,0.1\n"
           : i == 9  ? "1,2,3\n"
           : i == 10 ? "5\n"
                     : fmt::format("{},{}\n", a, l);
  });
  EXPECT_THAT(faults(csv), ElementsAre("lobe.csv:8:5: \"high\" is not a number; a row has two, angle and lift",
                                       HasSubstr("lobe.csv:9:1: \"x\" is not"),
                                       "lobe.csv:10: a row has two numbers, angle and lift; found 3",
                                       "lobe.csv:11: a row has two numbers, angle and lift; found 1"));
  std::string prose;
  for (int i = 0; i < 1000; ++i) prose += "all kinds of words\n";
  EXPECT_EQ(faults(prose).size(), 6u) << "five, and a word that there are more";
  EXPECT_THAT(
      faults(bump(70, 2, 0.43,
                  [](int i, double a, double l) { return i == 7 ? "-56,nan\n" : fmt::format("{},{}\n", a, l); })),
      ElementsAre(HasSubstr("\"nan\" is not a number")));
}

TEST_F(LiftTableFile, TooFewRows) {
  EXPECT_THAT(faults("0,0\n"), ElementsAre(HasSubstr("lobe.csv has 1 row; it needs at least 8")));
  EXPECT_THAT(faults(""), ElementsAre(HasSubstr("has 0 rows")));
  EXPECT_THAT(faults("angle,lift\n# nothing\n"), ElementsAre(HasSubstr("has 0 rows")));
}

TEST_F(LiftTableFile, AMillionRows) {
  const std::string csv = bump(70, 140e-6, 0.43);
  const auto found = faults(csv);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_THAT(found[0], HasSubstr("lift table lobe.csv has more than 100000 rows"));
  const auto words = faults(bump(70, 140e-6, 0.43, [](int, double, double) { return std::string("words, words\n"); }));
  ASSERT_EQ(words.size(), 7u);
  EXPECT_THAT(words[0], HasSubstr("lobe.csv:2:1: \"words\" is not a number")) << "the first line passes for a header";
  EXPECT_THAT(words[5], HasSubstr("lobe.csv:7: and more of the kind"));
  EXPECT_THAT(words[6], HasSubstr("more than 100000 rows"));
}

TEST_F(LiftTableFile, MissingOrNotAFile) {
  write("");
  std::filesystem::remove(folder_ / "lobe.csv");
  const auto only = [&](const std::string& text) {
    try {
      parse_engine(text, path());
    } catch (const InputError& error) {
      EXPECT_EQ(error.faults().size(), 1u) << error.what();
      return std::string(error.what());
    }
    return std::string();
  };
  EXPECT_EQ(only(engine()), path() + ":51:9: lift table " + csv_path() + ": there is no such file");
  EXPECT_THAT(only(replaced(engine(), "\"lobe.csv\"", "\".\"")), HasSubstr("is a folder, not a file"));
  EXPECT_THAT(only(replaced(engine(), "\"lobe.csv\"", "3")), HasSubstr("lobe.intake.table must be a word in quotes"));
}

TEST_F(LiftTableFile, Binary) {
  EXPECT_THAT(faults(std::string("1,2\n\0\n", 6)), ElementsAre(HasSubstr("is not text")));
}

TEST_F(LiftTableFile, KeysThatMustBeStated) {
  const std::string csv = bump(70, 2, 0.43);
  EXPECT_THAT(faults(csv, engine("table_angles = \"from centre\"\n")),
              ElementsAre(HasSubstr("missing key \"table_degrees\" in [lobe.intake]: one of \"cam\", \"crank\"")));
  EXPECT_THAT(faults(csv, engine("table_degrees = \"cam\"\n")), ElementsAre(HasSubstr("missing key \"table_angles\"")));
  const auto clash = faults(
      csv, replaced(engine("table_degrees = \"cam\"\ntable_angles = \"crank angle\"\n"), "centre   = 104 ", "#"));
  ASSERT_EQ(clash.size(), 1u);
  EXPECT_THAT(clash[0], HasSubstr("a table in crank angles is in crank degrees"));
}

TEST_F(LiftTableFile, ALiftBesideItMustAgree) {
  const std::string keys = "table_degrees = \"cam\"\ntable_angles = \"from centre\"\nlift = ";
  EXPECT_THAT(faults(bump(70, 2, 0.43), engine(keys + "0.430\n")), ::testing::IsEmpty());
  EXPECT_THAT(faults(bump(70, 2, 0.43), engine(keys + "0.450\n")),
              ElementsAre(HasSubstr("lift is 0.45 in, but the table's greatest is 0.43 in")));
}

TEST_F(LiftTableFile, InchesReadAsMillimetresShow) {
  EXPECT_THAT(faults(bump(70, 2, 0.43),
                     engine("table_degrees = \"cam\"\ntable_angles = \"from centre\"\nlift_unit = \"mm\"\n")),
              ElementsAre(HasSubstr("the greatest lift of the table is")));
}

}  // namespace
}  // namespace eyebrow::testing
