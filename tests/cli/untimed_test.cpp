// `eyebrow untimed` from its command line. Engines are the invented models.
#include <gmock/gmock.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

class Untimed : public ProgramTest {};

// The check's reserve steps the cam outward position by position and finds the same ends, as far as it looks (30
// degrees).
TEST_F(Untimed, AgreesWithTheChecksReserve) {
  const std::string wedge = model("two_valve_wedge").string();
  const Outcome outcome = run({"untimed", wedge, "--json", path("u.json").string()});
  EXPECT_EQ(outcome.status, 1) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  EXPECT_THAT(outcome.out, HasSubstr("INTERFERENCE ENGINE: valves can reach the piston when timing is lost."));
  EXPECT_THAT(outcome.out, HasSubstr("intake pocket floor meet"));
  EXPECT_THAT(outcome.out, HasSubstr("its wheel's teeth are not stated"));
  EXPECT_THAT(outcome.out, HasSubstr("turned by hand"));

  const json out = json::parse(read_file(path("u.json")));
  const json check = json::parse(run({"check", wedge, "--step", "10", "--json", "-"}).out);
  ASSERT_EQ(out["cams"].size(), 1u);
  const json &cam = out["cams"][0], &reserve = check["reserves"][0];
  EXPECT_NEAR(cam["early"]["by"].get<double>(), reserve["early_contact"]["by"].get<double>(), 1e-9);
  EXPECT_NEAR(cam["late"]["by"].get<double>(), reserve["late_contact"]["by"].get<double>(), 1e-9);
  EXPECT_EQ(cam["early"]["gap"], reserve["early_contact"]["gap"]);
  // Loft is what the check finds of travel.
  for (std::size_t i = 0; i < out["valves"].size(); ++i)
    EXPECT_NEAR(out["valves"][i]["loft"].get<double>(), check["asked"][4 * i]["found"].get<double>(), 0.001);
}

TEST_F(Untimed, ShortLiftsMakeAFreeRunningEngine) {
  const Outcome outcome = run({"untimed", model("two_valve_wedge").string(), "--set", "valve.intake.rocker_ratio=0.75",
                               "--set", "valve.exhaust.rocker_ratio=0.75", "--units", "mm"});
  EXPECT_EQ(outcome.status, 0) << outcome.out << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("FREE-RUNNING"));
  EXPECT_THAT(outcome.out, HasSubstr("clears the piston everywhere"));
  EXPECT_THAT(outcome.out, HasSubstr("clear all the way round"));
  EXPECT_THAT(outcome.out, HasSubstr("With valve.intake.rocker_ratio=0.75"));
}

// One tooth inside clears, the next touches, both ways: a map of the engine with its cam at whole teeth judges each as
// a check would.
TEST_F(Untimed, WholeTeethBracketTheContact) {
  const std::string wedge = model("two_valve_wedge").string();
  const Outcome outcome = run({"untimed", wedge, "--set", "cam.teeth=80", "--json", "-"});
  ASSERT_EQ(outcome.status, 1) << outcome.err;
  const json cam = json::parse(outcome.out)["cams"][0];
  EXPECT_EQ(cam["teeth"], 80);
  const int early = cam["early"]["teeth"].get<int>(), late = cam["late"]["teeth"].get<int>();
  ASSERT_LE(std::max(early, late) + 1, 4);
  const json map =
      json::parse(run({"map", wedge, "--vary", "cam.advance=-36:36:9", "--json", "-"}).out);  // 720 / 80 a tooth
  const auto touches = [&](int teeth) {
    return map["cells"][static_cast<std::size_t>(teeth + 4)]["verdict"] == "contact";
  };
  EXPECT_FALSE(touches(early));
  EXPECT_TRUE(touches(early + 1));
  EXPECT_FALSE(touches(-late));
  EXPECT_TRUE(touches(-late - 1));
}

TEST_F(Untimed, TellsFaultsAndRefusesWhatItDoesNotKnow) {
  const std::string wedge = model("two_valve_wedge").string();
  const Outcome faulty = run({"untimed", wedge, "--set", "gasket.thicknes=1"});
  EXPECT_EQ(faulty.status, 3);
  EXPECT_THAT(faulty.err, HasSubstr("did you mean \"thickness\""));
  EXPECT_EQ(run({"untimed"}).status, 2);
  EXPECT_EQ(run({"untimed", wedge, wedge}).status, 2);
  EXPECT_THAT(run({"untimed", wedge, "--plot", "p.svg"}).err, HasSubstr("untimed has no option \"--plot\""));
  EXPECT_THAT(run({"untimed", wedge, "--json", wedge}).err, HasSubstr("is the engine file"));
  const Outcome quiet = run({"untimed", model("inline_six_measured").string(), "--quiet"});
  EXPECT_EQ(quiet.out, "");
  EXPECT_THAT(quiet.err, HasSubstr("told of the file's own numbers"));
}

}  // namespace
}  // namespace eyebrow::testing
