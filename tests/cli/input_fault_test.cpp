// Wrong input: exit status 3, every fault with its place on a line of its own, nothing on the standard output, nothing
// written. The model is right; each case makes one change to it.
#include <gmock/gmock.h>
#include <sys/stat.h>

#include <algorithm>
#include <regex>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

namespace fs = std::filesystem;
using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

struct Case {
  std::string name;
  std::string from, to;           ///< the change
  std::vector<std::string> says;  ///< all in one line of the faults
  bool placed = true;             ///< that line names the changed line of the file
};

// Line number of the first line in which `text` and `other` differ.
int changed_line(const std::string& text, const std::string& other) {
  const auto [here, there] = std::mismatch(text.begin(), text.end(), other.begin(), other.end());
  return 1 + static_cast<int>(std::count(text.begin(), here, '\n'));
}

class InputFault : public ProgramTest {
 protected:
  const std::string model_ = read_file(model("two_valve_wedge"));

  /// Checks the faults of one run and gives them, one a line.
  std::vector<std::string> faults(const Outcome& outcome) const {
    EXPECT_EQ(outcome.status, 3);
    EXPECT_THAT(outcome.out, IsEmpty());
    EXPECT_THAT(names(), Not(::testing::Contains("out.json")));
    const std::vector<std::string> lines = lines_of(outcome.err);
    EXPECT_FALSE(lines.empty());
    return lines;
  }

  void expect(const Case& one, const std::string& text) const {
    write_file(path("engine.toml"), text);
    const std::vector<std::string> lines = faults(run({"check", "engine.toml", "--json", "out.json"}));
    const std::string start = one.placed ? "engine.toml:" + std::to_string(changed_line(model_, text)) + ":" : "";
    const bool told = std::any_of(lines.begin(), lines.end(), [&](const std::string& line) {
      return line.starts_with(start) && std::all_of(one.says.begin(), one.says.end(), [&](const std::string& part) {
               return line.find(part) != std::string::npos;
             });
    });
    EXPECT_TRUE(told) << "expected " << start << " ... " << ::testing::PrintToString(one.says) << "\nread\n"
                      << ::testing::PrintToString(lines);
    for (const std::string& line : lines)
      EXPECT_TRUE(std::regex_search(line, std::regex("^[^:]+(:[0-9]+(:[0-9]+)?)?: ."))) << line;
  }
};

// clang-format off
const Case kCases[] = {
    {"malformed", "[gasket]", "[gasket", {"]"}, false},
    {"no value", "bore           = 4.030", "bore           =", {}},
    {"a key twice", "[gasket]", "[gasket]\nthickness = 0.05", {}, false},
    {"unknown key", "bore           = 4.030", "bores          = 4.030", {"bores", "did you mean \"bore\"?"}},
    {"unknown table", "[gasket]", "[gaskets]", {"gaskets", "did you mean \"gasket\"?"}},
    {"missing key", "stroke         = 3.480\n", "", {"missing", "stroke"}, false},
    {"missing table", "[gasket]\nthickness = 0.041           # compressed\nbore      = 4.100\n", "", {"gasket"}, false},
    {"text for a number", "bore           = 4.030", "bore           = \"big\"", {"bore", "big"}},
    {"truth for a number", "bore           = 4.030", "bore           = true", {"bore"}},
    {"list for a number", "bore           = 4.030", "bore           = [4.030]", {"bore"}},
    {"number for a word", "rotation       = \"clockwise\"", "rotation       = 1", {"rotation"}},
    {"unknown word", "\"clockwise\"", "\"clockwize\"", {"clockwize", "clockwise"}},
    {"no unit anywhere", "units = \"in\"\n", "", {"unit"}, false},
    {"unknown unit", "bore           = 4.030", "bore           = \"4.03 cubits\"", {"cubits"}},
    {"angle for a length", "bore           = 4.030", "bore           = \"4.03 deg\"", {"deg", "length"}},
    {"length for an angle", "advance = 0", "advance = \"4 mm\"", {"mm", "angle"}},
    {"inches as mm", "bore           = 4.030", "bore           = \"4.03 mm\"", {"4.03 mm", "did you mean 4.03 in?"}},
    {"mm as inches", "bore           = 4.030", "bore           = 102", {"102 in", "did you mean 102 mm?"}},
    {"zero", "stroke         = 3.480", "stroke         = 0", {"stroke", "allowed"}},
    {"negative", "stroke         = 3.480", "stroke         = -3.480", {"stroke", "-3.48"}},
    {"not a number", "stroke         = 3.480", "stroke         = nan", {"stroke", "nan"}},
    {"infinite", "stroke         = 3.480", "stroke         = inf", {"stroke", "inf"}},
    {"absurd", "stroke         = 3.480", "stroke         = 1e300", {"stroke", "1e+300"}},
    {"short rod", "rod_length     = 6.000", "rod_length     = 1.700", {"rod"}},
    {"short rod with offset", "pin_offset     = 0 ", "pin_offset     = 4.5", {"pin_offset"}},
    {"piston too large", "crown_diameter    = 4.000", "crown_diameter    = 4.050", {"crown_diameter", "bore"}},
    {"valve too large", "head_diameter = 2.020", "head_diameter = 4.2", {"head_diameter"}},
    {"tilt against heights", "rim_height = 0.560", "rim_height = 0.580", {"rim_height", "flush_lift", "disagree"}, false},
    {"deck clearance twice", "deck_clearance = 0 ", "block_deck_height = 9.0\ncompression_height = 1.2\ndeck_clearance = 0 ",
     {"deck"}, false},
    {"pocket through the underside", "depth = 0.150\n", "depth = 0.450\n", {"pocket.intake", "underside"}},
    {"pocket misses the crown", "y = +0.861", "y = +3.861", {"pocket.intake", "misses the crown"}, false},
    {"unknown lobe", "[valve.intake]\nrole = \"intake\"", "[valve.intake]\nlobe = \"intaek\"\nrole = \"intake\"", {"intaek"}, false},
    {"asked missing", "travel = 0.080\n", "", {"travel"}, false},
    {"asked negative", "travel = 0.080", "travel = -0.080", {"travel"}},
    {"durations rise", "{ at = 0.300, duration = 125.8 }", "{ at = 0.300, duration = 225.8 }", {"duration"}, false},
};
// clang-format on

TEST_F(InputFault, EachHasItsPlaceAndItsMessage) {
  for (const Case& one : kCases) {
    SCOPED_TRACE(one.name);
    expect(one, replaced(model_, one.from, one.to));
  }
}

TEST_F(InputFault, AllAreToldAtOnce) {
  std::string text = replaced(model_, "bore           = 4.030", "bores          = 4.030");
  text = replaced(text, "stroke         = 3.480", "stroke         = \"long\"");
  text = replaced(text, "depth = 0.155", "depth = -1");
  text = replaced(text, "rocker_ratio = 1.6\nlash = 0.018\n\n[valve.exhaust]", "rocker_ratio = 60\n\n[valve.exhaust]");
  write_file(path("engine.toml"), text);
  const std::string all = ::testing::PrintToString(faults(run({"check", "engine.toml"})));
  EXPECT_THAT(all, AllOf(HasSubstr("bores"), HasSubstr("long"), HasSubstr("depth"), HasSubstr("rocker_ratio"),
                         HasSubstr("lash")));
}

TEST_F(InputFault, OverridesAreJudgedAlike) {
  struct Wrong {
    const char *set, *says;
  };
  for (const Wrong wrong :
       {Wrong{"cylinder.bor=4", "did you mean"}, Wrong{"cylinder.bore=-4", "cylinder.bore"},
        Wrong{"cylinder.bore=4 deg", "deg"}, Wrong{"cylinder.bore=big", "big"}, Wrong{"cylinder.bore=nan", "nan"}}) {
    SCOPED_TRACE(wrong.set);
    const std::vector<std::string> lines =
        faults(run({"check", model("two_valve_wedge").string(), "--set", wrong.set}));
    EXPECT_THAT(lines.front(), AllOf(::testing::StartsWith("--set"), HasSubstr(wrong.says)));
  }
}

// Closed, the valves run into each other, or the intake into the piston: told with names, not measured away.
TEST_F(InputFault, ValvesThroughEachOtherWhenClosed) {
  write_file(path("engine.toml"), replaced(model_, "y = -1.045", "y = -0.745"));
  const std::vector<std::string> lines = faults(run({"check", "engine.toml"}));
  EXPECT_THAT(::testing::PrintToString(lines), AllOf(HasSubstr("intake"), HasSubstr("exhaust")));
}

TEST_F(InputFault, ValveThroughThePistonWhenClosed) {
  std::string text = replaced(model_, "rim_height = 0.560", "rim_height = 0.100");
  text = replaced(text, "flush_lift = 0.180", "# flush_lift: left out");
  write_file(path("engine.toml"), text);
  const std::vector<std::string> lines = faults(run({"check", "engine.toml"}));
  EXPECT_THAT(::testing::PrintToString(lines), AllOf(HasSubstr("intake"), HasSubstr("piston")));
}

TEST_F(InputFault, APocketTooSmallForItsRimIsAWarning) {
  write_file(path("engine.toml"), replaced(model_, "diameter = 2.140", "diameter = 2.000"));
  const Outcome outcome = run({"check", "engine.toml", "--step", "10", "--json", "-"});
  EXPECT_EQ(outcome.status, 1);
  EXPECT_TRUE(std::regex_search(outcome.err, std::regex("^engine\\.toml:[0-9]+:[0-9]+: warning: .*cannot enter")))
      << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("cannot enter")) << "the report keeps it";
}

// What the numbers make impossible is the file's fault, not the machine's, whichever part finds it.
TEST_F(InputFault, ShapesThatCannotBe) {
  struct Shape {
    std::vector<std::string> set;
    const char* says;
  };
  const Shape shapes[] = {
      {{"pocket.intake.corner_radius=1.2"}, "pocket.intake.corner_radius: 1.2 in does not fit"},
      {{"pocket.intake.corner_radius=12 mm"}, "pocket.intake.corner_radius: 0.472441 in leaves next to nothing"},
      {{"pocket.intake.corner_radius=0.9"}, "pocket.intake.corner_radius: 0.9 in leaves next to nothing"},
      {{"piston.dish.diameter=2", "piston.dish.depth=0.1", "piston.dish.corner_radius=0.11"},
       "piston.dish.corner_radius: 0.11 in does not fit"},
      {{"piston.underside=9 mm", "piston.top_chamfer=9.5 mm"}, "the top chamfer of 0.3740 in reaches down"},
      {{"piston.top_chamfer=60 mm"}, "piston.top_chamfer is 60 mm; allowed is"},
      {{"pocket.intake.mouth_break=11 mm"}, "pocket.intake.mouth_break is 11 mm; allowed is"},
  };
  for (const Shape& shape : shapes) {
    std::vector<std::string> words{"check", model("two_valve_wedge").string(), "--quiet"};
    for (const std::string& set : shape.set) words.insert(words.end(), {"--set", set});
    EXPECT_THAT(::testing::PrintToString(faults(run(words))), HasSubstr(shape.says));
  }
}

TEST_F(InputFault, DoubtsAboutTheMotionHaveTheirPlace) {
  const std::string halved = replaced(
      model_,
      "durations = [ { at = 0.020, duration = 287.7 }, { at = 0.050, duration = 266.0 }, { at = 0.100, "
      "duration = 236.1 },\n              { at = 0.200, duration = 182.0 }, { at = 0.300, duration = 125.8 } ]",
      "durations = [ { at = 0.020, duration = 143.9 }, { at = 0.050, duration = 133.0 } ]");
  write_file(path("engine.toml"), halved);
  const Outcome outcome = run({"check", "engine.toml", "--quiet", "--step", "10"});
  EXPECT_LE(outcome.status, 1);
  EXPECT_TRUE(std::regex_search(
      outcome.err, std::regex("engine\\.toml:52:[0-9]+: warning: lobe\\.intake holds its valve open for [0-9]+ crank")))
      << outcome.err;
}

// --- lift tables -----------------------------------------------------------------------------------------------

class LiftTableFault : public InputFault {
 protected:
  /// The model with the intake's lift in lift.csv.
  std::string with_table() const {
    const std::size_t from = model_.find("lift     = 0.430"), to = model_.find("[lobe.exhaust]");
    std::string text = model_;
    return text.replace(from, to - from,
                        "table = \"lift.csv\"\ntable_degrees = \"crank\"\ntable_angles = \"from centre\"\n\n");
  }

  /// A smooth curve of 0.43 in from -140 to 140 degrees, one row a degree.
  static std::vector<std::string> rows() {
    std::vector<std::string> out;
    for (int degree = -140; degree <= 140; ++degree) {
      const double share = 1 - degree * degree / 19600.0;
      out.push_back(std::to_string(degree) + ", " + std::to_string(0.43 * share * share * share));
    }
    return out;
  }

  void expect_fault(const std::vector<std::string>& rows, const std::string& says) const {
    std::string text = "degrees, inches\n";
    for (const std::string& row : rows) text += row + "\n";
    write_file(path("lift.csv"), text);
    write_file(path("engine.toml"), with_table());
    const std::vector<std::string> lines = faults(run({"check", "engine.toml", "--json", "out.json"}));
    EXPECT_THAT(lines, ::testing::Contains(HasSubstr(says)));
    EXPECT_THAT(::testing::PrintToString(lines), HasSubstr("lift.csv"));
    EXPECT_LE(lines.size(), 20u) << "not one a row";
  }
};

TEST_F(LiftTableFault, AGoodTableIsTaken) {
  std::string text;
  for (const std::string& row : rows()) text += row + "\n";
  write_file(path("lift.csv"), text);
  write_file(path("engine.toml"), with_table());
  const Outcome outcome = run({"check", "engine.toml", "--quiet", "--step", "10"});
  EXPECT_LE(outcome.status, 1);
  EXPECT_THAT(outcome.err, IsEmpty());
}

TEST_F(LiftTableFault, IsTold) {
  std::vector<std::string> table = rows();
  std::swap(table[100], table[101]);
  expect_fault(table, "lift.csv:103:");

  table = rows();
  table.erase(table.begin() + 100, table.begin() + 160);
  expect_fault(table, "gap");

  table = rows();
  table[50] = "-90, -0.01";
  expect_fault(table, "negative");

  table = rows();
  table.erase(table.begin(), table.begin() + 60);
  expect_fault(table, "base circle");

  table = rows();
  table[50] = "-90, about a tenth";
  expect_fault(table, "lift.csv:52:");

  table = rows();
  table[50] = "-90, nan";
  expect_fault(table, "nan");

  expect_fault({"0, 0.43"}, "1 row");
  expect_fault({}, "0 rows");
  expect_fault(std::vector<std::string>(1000000, "1, 0.1"), "rows");
}

TEST_F(LiftTableFault, AMissingTableIsToldAtItsKey) {
  write_file(path("engine.toml"), with_table());
  const std::vector<std::string> lines = faults(run({"check", "engine.toml"}));
  EXPECT_THAT(lines, ElementsAre(AllOf(::testing::StartsWith("engine.toml:"), HasSubstr("lift.csv"),
                                       HasSubstr("no such file"))));
  fs::create_directory(path("lift.csv"));
  EXPECT_THAT(faults(run({"check", "engine.toml"})).front(), HasSubstr("folder"));
}

// --- files that are no engine files ----------------------------------------------------------------------------

TEST_F(InputFault, MissingFolderBinaryUnreadable) {
  EXPECT_THAT(faults(run({"check", "none.toml"})),
              ElementsAre(AllOf(HasSubstr("none.toml"), HasSubstr("no such file"))));
  EXPECT_THAT(faults(run({"check", "."})), ElementsAre(HasSubstr("folder")));
  EXPECT_THAT(faults(run({"check", "none/none.toml"})), ElementsAre(HasSubstr("none/none.toml")));
  write_file(path("binary.toml"), std::string("\x7f"
                                              "ELF\0\x01\x02\xff\xfe",
                                              9));
  EXPECT_THAT(faults(run({"check", "binary.toml"})).front(), HasSubstr("binary.toml"));
  write_file(path("latin.toml"), "name = \"K\xf6rper\"\n");
  EXPECT_THAT(faults(run({"check", "latin.toml"})).front(), HasSubstr("latin.toml:1"));
  write_file(path("empty.toml"), "");
  EXPECT_THAT(faults(run({"check", "empty.toml"})).front(), HasSubstr("empty.toml"));
  // Opens, but no byte of it can be read, by whomever.
  EXPECT_THAT(faults(run({"check", "/proc/self/mem"})).front(), HasSubstr("cannot be read"));
  EXPECT_THAT(faults(run({"export", "none.toml", "-o", "x.step"})), ElementsAre(HasSubstr("no such file")));
}

TEST_F(InputFault, AFileThatMayNotBeRead) {
  if (run({"--version"}, {.as_nobody = true}).status != 0) GTEST_SKIP() << "nobody may not run the program here";
  write_file(path("secret.toml"), model_);
  fs::permissions(path("secret.toml"), fs::perms::none);
  EXPECT_THAT(faults(run({"check", "secret.toml"}, {.as_nobody = true})), ElementsAre(HasSubstr("Permission denied")));
}

TEST_F(InputFault, AMillionLines) {
  std::string text;
  for (int i = 0; i < 1000000; ++i) text += "key" + std::to_string(i) + " = 1\n";
  write_file(path("long.toml"), text);
  const std::vector<std::string> lines = faults(run({"check", "long.toml"}));
  EXPECT_LE(lines.size(), 250u) << "a screenful or two, not a million";
  write_file(path("blank.toml"), model_ + std::string(1000000, '\n'));
  faults(run({"check", "blank.toml"}));
}

TEST_F(InputFault, DeeplyNested) {
  const std::string deep(100000, '[');
  std::string dotted = "a";
  for (int i = 0; i < 50000; ++i) dotted += ".a";
  for (const std::string& text :
       {"x = " + deep, deep, dotted + " = 1", "[" + dotted + "]", "x = " + std::string(100000, '{')}) {
    write_file(path("deep.toml"), text);
    EXPECT_THAT(faults(run({"check", "deep.toml"})).front(), ::testing::StartsWith("deep.toml:1"));
  }
}

TEST_F(InputFault, AnEndlessFile) {
  EXPECT_THAT(faults(run({"check", "/dev/zero"})), ElementsAre(HasSubstr("/dev/zero")));
}

}  // namespace
}  // namespace eyebrow::testing
