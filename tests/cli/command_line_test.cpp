// What is wrong with the command line itself: exit status 2, one line, the nearest right word.
#include <gmock/gmock.h>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

struct Wrong {
  std::vector<std::string> words;
  std::string says;
};

class CommandLine : public ProgramTest {};

TEST_F(CommandLine, EachFaultHasOneLineAndStatusTwo) {
  const std::string e = model("two_valve_wedge").string();
  const std::vector<Wrong> table = {
      {{}, "a verb is missing"},
      {{"chek", e}, "did you mean \"check\"?"},
      {{"exprot", e}, "did you mean \"export\"?"},
      {{"wobble"},
       "\"wobble\" is no verb: allowed are check, compare, export, faces, map, new, picture, pocket, stack, untimed, "
       "view"},
      {{""}, "is no verb"},
      {{"--quiet", "check", e}, "stands where the verb belongs"},
      {{"check"}, "ENGINE is required"},
      {{"check", ""}, "the file name is empty"},
      {{"check", e, e}, "one word too many"},
      {{"check", e, "--unit", "mm"}, "check has no option \"--unit\": did you mean \"--units\"?"},
      {{"check", e, "--jsno=x"}, "did you mean \"--json\"?"},
      {{"check", e, "-x"}, "check has no option \"-x\""},
      {{"check", e, "--units", "cm"}, "--units: \"cm\" is no unit here; allowed: mm, in"},
      {{"check", e, "--units", ""}, "allowed: mm, in"},
      {{"check", e, "--units", "mm", "--units", "in"}, "--units: given more than once"},
      {{"check", e, "--units"}, "--units: its value is missing"},
      {{"check", e, "--digits", "7"}, "allowed: 2 to 6"},
      {{"check", e, "--digits", "0"}, "allowed: 2 to 6, as gaps are hundredths of a mm"},
      {{"check", e, "--step", "0"}, "allowed: 0.01 to 10 crank degrees"},
      {{"check", e, "--step", "nan"}, "allowed: 0.01 to 10 crank degrees"},
      {{"check", e, "--csv", "--quiet"}, "--csv: a file name is missing before \"--quiet\""},
      {{"check", e, "--csv", ""}, "--csv: the file name is empty"},
      {{"check", e, "--csv", "-", "--json", "-"}, "--csv and --json both name \"-\""},
      {{"check", e, "--csv", "a", "--json", "a"}, "--csv and --json both name \"a\""},
      {{"check", e, "--set", "gasket.thickness"}, "gasket.thickness"},
      {{"check", e, "--set", "=0.05"}, "=0.05"},
      {{"check", e, "--set", "cylinder.bore="}, "cylinder.bore="},
      {{"export", e}, "--output is required"},
      {{"export", e, "-o"}, "its value is missing"},
      {{"export", e, "-o", "x.stl"},
       "--output: \"x.stl\" is no name of a STEP file; allowed: a name that ends in .step"},
      {{"export", e, "-o", e}, "is no name of a STEP file"},
      {{"export", e, "-o", "x.step", "--at", "noon"}, "--at: \"noon\" is no place in the cycle"},
      {{"export", e, "-o", "x.step", "--at", "-5ATDC"}, "is no place in the cycle"},
      {{"new"}, "FILE is required"},
  };
  for (const Wrong& wrong : table) {
    const Outcome outcome = run(wrong.words);
    SCOPED_TRACE(::testing::PrintToString(wrong.words));
    EXPECT_EQ(outcome.status, 2);
    EXPECT_THAT(outcome.out, IsEmpty());
    EXPECT_THAT(outcome.err, StartsWith("eyebrow: "));
    EXPECT_THAT(outcome.err, HasSubstr(wrong.says));
    EXPECT_EQ(lines_of(outcome.err).size(), 1u) << outcome.err;
  }
  EXPECT_THAT(names(), IsEmpty()) << "nothing may be written";
}

TEST_F(CommandLine, HelpAndVersionAreAnswersNotFaults) {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"--help"}, {"-h"}, {"check", "--help"}, {"export", "-h"}, {"new", "--help"}}) {
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.status, 0);
    EXPECT_THAT(outcome.err, IsEmpty());
    EXPECT_THAT(outcome.out, HasSubstr("Exit status:"));
    EXPECT_THAT(outcome.out, HasSubstr("Usage: eyebrow"));
  }
  EXPECT_THAT(run({"check", "--help"}).out, HasSubstr("--set"));
  EXPECT_THAT(run({"--version"}).out, ::testing::MatchesRegex("eyebrow [0-9]+\\.[0-9]+\\.[0-9]+\n"));
}

TEST_F(CommandLine, NeverWritesOverTheEngineFile) {
  const std::string text = read_file(model("two_valve_wedge"));
  write_file(path("engine.toml"), text);
  std::filesystem::create_symlink("engine.toml", path("link.toml"));
  for (const std::string name : {"engine.toml", "./engine.toml", "link.toml"}) {
    EXPECT_EQ(run({"check", "engine.toml", "--json", name}).status, 2) << name;
    EXPECT_EQ(run({"check", "engine.toml", "--csv", name}).status, 2) << name;
    EXPECT_EQ(run({"export", "engine.toml", "-o", name}).status, 2) << name;
  }
  std::filesystem::create_symlink("engine.toml", path("link.step"));
  EXPECT_EQ(run({"export", "engine.toml", "-o", "link.step"}).status, 2);
  EXPECT_EQ(read_file(path("engine.toml")), text);
}

TEST_F(CommandLine, LetsNoControlCharacterReachTheTerminal) {
  const Outcome outcome = run({"\x1b[2Jchek"});
  EXPECT_EQ(outcome.status, 2);
  EXPECT_EQ(outcome.err.find('\x1b'), std::string::npos);
}

}  // namespace
}  // namespace eyebrow::testing
