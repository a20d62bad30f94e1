// A crown from STEP, from the command line.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

class StepCrownProgram : public ProgramTest {
 protected:
  /// The wedge with its crown from a STEP file that the program itself wrote.
  void write_engine(const std::string& table) {
    ASSERT_EQ(run({"export", kEngine, "-o", "wedge.step", "--quiet"}).status, 0);
    const std::string text = read_file(kEngine);
    const auto from = text.find("[piston]"), to = text.find("[cam]");
    ASSERT_LT(from, to);
    write_file(path("engine.toml"), text.substr(0, from) + "[piston.step]\n" + table + "\n" + text.substr(to));
  }
};

/// Up to the gaps' end: what comes then names the crown.
std::string gaps_of(const std::string& report) {
  return report.substr(0, report.find("piston to head: "));
}

TEST_F(StepCrownProgram, ChecksLikeTheNumbersItWasMadeOf) {
  write_engine("file = \"wedge.step\"\nsolid = \"crown\"\nflat = 0\nup = \"+z\"\nfront = \"+y\"");
  const Outcome by_numbers = run({"check", kEngine, "--no-remedies"});
  const Outcome by_step = run({"check", "engine.toml", "--no-remedies"});
  EXPECT_EQ(by_step.status, by_numbers.status) << by_step.err;
  EXPECT_THAT(by_step.err, IsEmpty());
  EXPECT_THAT(gaps_of(by_step.out), HasSubstr("intake pocket floor"));
  EXPECT_EQ(gaps_of(by_step.out), gaps_of(by_numbers.out));
  EXPECT_THAT(by_step.out, HasSubstr("its shape is changed there alone"));

  const Outcome faces = run({"faces", "engine.toml"});
  EXPECT_EQ(faces.status, 0);
  EXPECT_THAT(faces.out, AllOf(HasSubstr("in the file"), HasSubstr("exhaust pocket wall"), HasSubstr("cylinder")));
}

TEST_F(StepCrownProgram, MarksWhatTheEngineFileSaysOfAFace) {
  write_engine("file = \"wedge.step\"\nsolid = \"crown\"");
  std::string number;
  const Outcome found = run({"faces", "engine.toml", "--quiet"}), all = run({"faces", "engine.toml"});
  EXPECT_THAT(found.out, IsEmpty());
  EXPECT_THAT(all.out, Not(HasSubstr("*")));
  for (const std::string& line : lines_of(all.out))
    if (line.find("intake pocket floor") != std::string::npos) number = line.substr(0, 4);
  ASSERT_FALSE(number.empty());
  number.erase(0, number.find_first_not_of(' '));
  write_engine("file = \"wedge.step\"\nsolid = \"crown\"\nfaces = [ { face = \"" + number +
               "\", is = \"floor\", valve = \"intake\" } ]");
  const Outcome stated = run({"faces", "engine.toml"});
  EXPECT_EQ(stated.status, 0) << stated.err;
  EXPECT_THAT(stated.out, AllOf(HasSubstr(number + "* intake pocket floor"), HasSubstr("\n* as the engine file says")));
}

TEST_F(StepCrownProgram, TellsWhatItTookAsFoundAndWhatItCannotTake) {
  write_engine("file = \"wedge.step\"");
  const Outcome several = run({"faces", "engine.toml"});
  EXPECT_EQ(several.status, 0);
  EXPECT_THAT(several.err, AllOf(HasSubstr("engine.toml:22:8: "), HasSubstr("of its 5 solids \"crown\" was taken"),
                                 HasSubstr("say solid = \"crown\"")));

  write_engine("file = \"wedge.step\"\nsolid = \"piston\"");
  const Outcome none = run({"check", "engine.toml"});
  EXPECT_EQ(none.status, 3);
  EXPECT_THAT(none.err, AllOf(HasSubstr("engine.toml:23:9: "), HasSubstr("no solid \"piston\": \"crown\", \"block\"")));
  EXPECT_EQ(lines_of(none.err).size(), 1u) << none.err;

  write_engine("file = \"wedge.step\"\nsolid = \"crown\"");
  const Outcome found = run({"faces", "engine.toml"});
  EXPECT_EQ(found.status, 0);
  EXPECT_THAT(found.err, AllOf(HasSubstr("warning"), HasSubstr("flat = \"0.0000 in\", up = \"+z\", front = \"+y\"")));

  const Outcome varied = run({"map", "engine.toml", "--vary", "pocket.intake.depth=0.1:0.2:0.1"});
  EXPECT_EQ(varied.status, 3);
  EXPECT_THAT(varied.err, HasSubstr("taken from STEP"));
  const Outcome sized = run({"pocket", "engine.toml"});
  EXPECT_EQ(sized.status, 3);
  EXPECT_THAT(sized.err, HasSubstr("taken from STEP"));

  write_file(path("wedge.step"), "ISO-10303-21;\nHEADER;\n");
  const Outcome broken = run({"check", "engine.toml"});
  EXPECT_EQ(broken.status, 3);
  EXPECT_THAT(broken.err, AllOf(HasSubstr("not a STEP file"), Not(HasSubstr("***"))));
  EXPECT_THAT(broken.out, IsEmpty());
}

/// Lines of [valve.NAME] that say its shape, left out but for the two readings; the file instead.
std::string with_valves_from(const std::string& file, const std::string& text) {
  std::string out;
  std::istringstream lines(text);
  bool valve = false;
  for (std::string line; std::getline(lines, line);) {
    const auto begins = [&](const char* word) { return line.rfind(word, 0) == 0; };
    if (begins("[")) {
      if (valve) out += "step = { file = \"" + file + "\" }\n";
      valve = begins("[valve.");
    }
    const bool shape =
        begins("margin") || begins("seat_") || begins("face") || begins("rim_radius") || begins("underhead");
    if (!valve || !shape) out += line + "\n";
  }
  return out;
}

TEST_F(StepCrownProgram, ChecksAWholeAssemblyOfOneFile) {
  write_engine("file = \"wedge.step\"\nsolid = \"crown\"\nflat = 0\nup = \"+z\"\nfront = \"+y\"");
  write_file(path("engine.toml"), with_valves_from("wedge.step", read_file(path("engine.toml"))));
  const Outcome by_numbers = run({"check", kEngine, "--no-remedies"});
  const Outcome by_step = run({"check", "engine.toml", "--no-remedies"});
  EXPECT_EQ(by_step.status, by_numbers.status) << by_step.err;
  EXPECT_THAT(by_step.err, AllOf(HasSubstr("\"valve intake\" was taken for valve \"intake\", as no other fits"),
                                 HasSubstr("\"valve exhaust\" was taken for valve \"exhaust\"")));
  EXPECT_EQ(gaps_of(by_step.out), gaps_of(by_numbers.out));
  EXPECT_THAT(by_step.out, HasSubstr("valve exhaust from wedge.step"));
  const nlohmann::json conditions =
      nlohmann::json::parse(run({"check", "engine.toml", "--no-remedies", "--json", "-"}).out)["conditions"];
  EXPECT_THAT(conditions["crown_from"].get<std::string>(), HasSubstr("wedge.step"));
  EXPECT_EQ(conditions["valves_from"].size(), 2u);
  EXPECT_THAT(conditions["valves_from"]["exhaust"].get<std::string>(), HasSubstr("wedge.step"));
  const Outcome faces = run({"faces", "engine.toml"});
  EXPECT_THAT(faces.out, AllOf(HasSubstr("Valve \"exhaust\""), HasSubstr("underhead"), HasSubstr("straight")));

  const Outcome wrong = run({"check", "engine.toml", "--set", "valve.intake.stem_diameter=0.4in"});
  EXPECT_EQ(wrong.status, 3);
  EXPECT_THAT(wrong.err, HasSubstr("say which is valve \"intake\": solid = "));
}

}  // namespace
}  // namespace eyebrow::testing
