// [piston.step]: what may stand beside it, and what must not.
#include <fstream>

#include "spec/own_folder.hpp"
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// The wedge with a crown from a file; `more`: other lines of the table.
std::string with_step(const std::string& more, const std::string& file = "crown.step") {
  const std::string text = wedge();
  const auto piston = text.find("[piston]"), pockets = text.find("[pocket.intake]"), after = text.find("[cam]");
  EXPECT_TRUE(piston < pockets && pockets < after && after != std::string::npos);
  return text.substr(0, piston) + "[piston]\ncrown_diameter = 4.000\n[piston.step]\nfile = \"" + file + "\"\n" + more +
         "\n" + text.substr(after);
}

class StepKeys : public InOwnFolder {
 protected:
  StepKeys() : InOwnFolder("keys") {}
  void SetUp() override {
    InOwnFolder::SetUp();
    std::ofstream("crown.step") << "ISO-10303-21;\n";
    std::ofstream("empty.step");
  }
};

TEST_F(StepKeys, AreRead) {
  const Engine engine = parsed(with_step("solid = \"crown\"\nup = \"-x\"\nfront = \"+z\"\nturn = 90\nflat = \"12 mm\"\n"
                                         "faces = [ { face = \"12\", is = \"wall\", valve = \"intake\" },\n"
                                         "          { face = \"top\", is = \"dish floor\" },\n"
                                         "          { point = [0.5, \"-10 mm\", -0.1], is = \"dome\" } ]"))
                            .engine;
  ASSERT_TRUE(engine.piston.step);
  const StepCrown& step = *engine.piston.step;
  EXPECT_EQ(*step.text, "ISO-10303-21;\n");
  EXPECT_EQ(step.solid, "crown");
  EXPECT_EQ(norm(*step.up - Vec3{-1, 0, 0}), 0);
  EXPECT_EQ(norm(*step.front - Vec3{0, 0, 1}), 0);
  EXPECT_NEAR(step.turn, kPi / 2, 1e-15);
  EXPECT_EQ(step.flat, 12.0);
  ASSERT_EQ(step.faces.size(), 3u);
  EXPECT_EQ(step.faces[0].group, Group::wall);
  EXPECT_EQ(step.faces[0].valve, "intake");
  EXPECT_EQ(step.faces[1].group, Group::dish_floor);
  EXPECT_FALSE(step.faces[1].point);
  EXPECT_EQ(step.faces[2].face, "");
  ASSERT_TRUE(step.faces[2].point);
  EXPECT_NEAR(norm(*step.faces[2].point - Vec3{12.7, -10, -2.54}), 0, 1e-12);
  EXPECT_EQ(own_pocket(engine, 1), 1);
  EXPECT_TRUE(engine.piston.pockets.empty());
}

TEST_F(StepKeys, NeedNoCrownDiameter) {
  const Engine engine = parsed(replaced(with_step(""), "crown_diameter = 4.000\n", "")).engine;
  EXPECT_EQ(engine.piston.crown_diameter, 0);
}

TEST_F(StepKeys, SlipsAreToldInWords) {
  const auto one = [](const std::string& text, const std::string& words) {
    EXPECT_THAT(faults_of(text), ElementsAre(HasSubstr(words)));
  };
  one(with_step("", "none.step"), "none.step: there is no such file");
  one(with_step("", "."), "is a folder");
  one(with_step("", "empty.step"), "is empty");
  one(with_step("up = \"z\""), "\"+z\"");
  one(replaced(with_step(""), "[piston.step]\nfile = \"crown.step\"", "step = \"crown.step\""), "piston.step");
  one(with_step("turn = 400"), "turn");
  one(with_step("flat = \"9 m\""), "flat");
  one(with_step("fla = 2"), "flat");
  one(with_step("faces = [ { face = \"1\", is = \"wal\", valve = \"intake\" } ]"), "wall");
  one(with_step("faces = [ { face = \"1\", is = \"wall\" } ]"), "valve");
  one(with_step("faces = [ { face = \"1\", is = \"wall\", valve = \"intak\" } ]"), "did you mean \"intake\"");
  one(with_step("faces = [ { face = \"1\", is = \"dome\", valve = \"intake\" } ]"), "only a floor");
  one(with_step("faces = [ { is = \"dome\" } ]"), "face");
  one(with_step("faces = [ { is = \"dome\", point = [1, 2] } ]"), "three lengths");
  one(with_step("faces = [ { is = \"dome\", point = 3 } ]"), "list of numbers");
  one(with_step("faces = [ { is = \"dome\", point = [1, 2, 300] } ]"), "from where the bore axis meets the crown flat");
  one(with_step("faces = [ { is = \"dome\", face = \"1\", point = [0, 0, 0] } ]"), "not by both");
  one(replaced(with_step(""), "file = \"crown.step\"", ""), "file");
}

TEST_F(StepKeys, NumbersThatTheFileHasAreRefused) {
  const std::string text = with_step("");
  for (const std::string more : {"[piston.dish]\ndiameter = 2\ndepth = 0.1\n", "[pocket.intake]\nx = 0\n"})
    EXPECT_THAT(faults_of(text + "\n" + more), ElementsAre(HasSubstr("taken from STEP")));
  EXPECT_THAT(faults_of(text, {{"pocket.intake.depth", "0.2 in"}}), ElementsAre(HasSubstr("taken from STEP")));
  EXPECT_THAT(faults_of(text, {{"piston.top_chamfer", "0.02 in"}}), ElementsAre(HasSubstr("taken from STEP")));
  EXPECT_THAT(faults_of(text, {{"valve.intake.pocket", "intake"}}), ElementsAre(HasSubstr("found by its place")));
}

}  // namespace
}  // namespace eyebrow::testing
