// Wrong input: exit status 3, every fault with its place on a line of its own, nothing on the standard output, nothing
// written. The model is right; each case makes one change to it.
#include <gmock/gmock.h>
#include <sys/stat.h>

#include <algorithm>
#include <regex>

#include "cli/input_fault.hpp"

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

class WrongInput : public InputFault {
 protected:
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

TEST_F(WrongInput, EachHasItsPlaceAndItsMessage) {
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
  struct Override {
    const char *set, *says;
  };
  for (const Override wrong : {Override{"cylinder.bor=4", "did you mean"},
                               Override{"cylinder.bore=-4", "cylinder.bore"}, Override{"cylinder.bore=4 deg", "deg"},
                               Override{"cylinder.bore=big", "big"}, Override{"cylinder.bore=nan", "nan"}}) {
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
  const Outcome outcome = run({"check", "engine.toml", "--step", "10", "--json", "-", "--no-remedies"});
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

}  // namespace
}  // namespace eyebrow::testing
