// [valve.NAME.step]: what may stand beside it, and what must not.
#include <fstream>

#include "spec/own_folder.hpp"
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

class StepValveKeys : public InOwnFolder {
 protected:
  StepValveKeys() : InOwnFolder("valve_keys") {}
  void SetUp() override {
    InOwnFolder::SetUp();
    std::ofstream("valve.step") << "ISO-10303-21;\n";
    std::ofstream("empty.step");
  }
};

bool is_shape(const std::string& line) {
  for (const char* key : {"margin", "seat_angle", "seat_width", "face", "rim_radius", "underhead_angle"})
    if (line.starts_with(key)) return true;
  return false;
}

/// The wedge, its intake valve from a file; `more`: lines of [valve.intake]; `step`: of [valve.intake.step].
std::string with_valve(const std::string& more, const std::string& step) {
  std::istringstream lines(wedge());
  std::string out, line;
  bool inside = false;
  while (std::getline(lines, line)) {
    if (inside && line.starts_with("[")) out += more + "\n[valve.intake.step]\n" + step + "\n";
    if (line.starts_with("[")) inside = line.starts_with("[valve.intake]");
    if (!inside || !is_shape(line)) out += line + "\n";
  }
  return out;
}

TEST_F(StepValveKeys, AreRead) {
  const Engine engine = parsed(with_valve("", "file = \"valve.step\"\nsolid = \"valve intake\"")).engine;
  ASSERT_TRUE(engine.valves[0].step);
  EXPECT_FALSE(engine.valves[1].step);
  EXPECT_EQ(*engine.valves[0].step->text, "ISO-10303-21;\n");
  EXPECT_EQ(engine.valves[0].step->solid, "valve intake");
  EXPECT_GT(engine.valves[0].head_diameter, 0);
  EXPECT_GT(engine.valves[0].rim_height, 0);
}

TEST_F(StepValveKeys, AreTakenOverByLikeOrLeftForNumbers) {
  std::string text = with_valve("", "file = \"valve.step\"");
  const auto exhaust = text.find("[valve.exhaust]"), next = text.find("\n[", exhaust);
  std::string whole = text.substr(0, exhaust) + "[valve.exhaust]\nlike = \"intake\"\nlash = 0.01\n" + text.substr(next);
  EXPECT_TRUE(parsed(whole).engine.valves[1].step);
  whole = text.substr(0, exhaust) +
          "[valve.exhaust]\nlike = \"intake\"\nmargin = 0.05\nseat_angle = 45\nseat_width = 0.1\n" + text.substr(next);
  EXPECT_FALSE(parsed(whole).engine.valves[1].step);
}

TEST_F(StepValveKeys, RefuseWhatTheFileSays) {
  EXPECT_THAT(faults_of(with_valve("margin = 0.055\nseat_angle = 45", "file = \"valve.step\"")),
              ElementsAre(HasSubstr("valve.intake.margin: the valve is taken from STEP ([valve.intake.step]), which "
                                    "has no such number"),
                          HasSubstr("valve.intake.seat_angle: the valve is taken from STEP")));
  EXPECT_THAT(faults_of(with_valve("", "file = \"none.step\"")), ElementsAre(HasSubstr("none.step")));
  EXPECT_THAT(faults_of(with_valve("", "file = \"empty.step\"")), ElementsAre(HasSubstr("empty.step is empty")));
  EXPECT_THAT(faults_of(with_valve("", "solid = \"1\"")), ElementsAre(HasSubstr("file")));
  EXPECT_THAT(faults_of(with_valve("", "file = \"valve.step\"\nflat = 1")), ElementsAre(HasSubstr("flat")));
}

}  // namespace
}  // namespace eyebrow::testing
