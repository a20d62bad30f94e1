// `eyebrow pocket` from its command line. Engines are the invented models.
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

class PocketVerb : public ProgramTest {};

// The file that it writes keeps its comments, and a check of it, which knows nothing of how it came about, tells that
// every gap holds, as the report did.
TEST_F(PocketVerb, WritesAFileWhoseCheckHolds) {
  const std::string engine = model("inline_six_big_valve").string(), fixed = path("fixed.toml").string();
  const Outcome outcome = run({"pocket", engine, "--existing", "--fix", fixed, "--json", path("p.json").string(),
                               "--sheet", path("sheet.svg").string(), "--set", "head.chamber_volume=70 cm3"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("Pocket intake"), HasSubstr("intake.radial is short"),
                                 HasSubstr("no permission to cut"), HasSubstr("Compression")));
  const std::string before = read_file(engine), after = read_file(fixed);
  EXPECT_THAT(after, HasSubstr("x = -0.008                  # where the pocket's axis crosses the crown flat"));
  EXPECT_THAT(before, HasSubstr("diameter = 1.940\n"));
  EXPECT_THAT(after, AllOf(HasSubstr("diameter = 1.9975\n"), HasSubstr("chamber_volume = \"70 cm3\"")));

  const Outcome check = run({"check", fixed, "--no-remedies", "--step", "10", "--json", "-"});
  EXPECT_EQ(check.status, 0) << check.err;
  const json sized = json::parse(read_file(path("p.json"))), checked = json::parse(check.out);
  EXPECT_EQ(sized["schema"], "eyebrow.pocket/1");
  EXPECT_EQ(checked["verdict"], "holds");
  ASSERT_EQ(sized["asked"].size(), checked["asked"].size());
  for (std::size_t i = 0; i < sized["asked"].size(); ++i)
    EXPECT_NEAR(sized["asked"][i]["found"].get<double>(), checked["asked"][i]["found"].get<double>(), 0.001)
        << sized["asked"][i]["gap"];
  ASSERT_EQ(sized["crown_left"].size(), checked["crown_left"].size());
  for (std::size_t i = 0; i < sized["crown_left"].size(); ++i)
    EXPECT_NEAR(sized["crown_left"][i]["value"].get<double>(), checked["crown_left"][i]["value"].get<double>(), 0.001);
  EXPECT_NEAR(sized["compression"]["ratio"].get<double>(), checked["compression"]["ratio"].get<double>(), 1e-6);
  // A wider pocket: more room, so less compression.
  EXPECT_LT(sized["compression"]["ratio"].get<double>(), sized["compression_before"]["ratio"].get<double>());

  const std::string sheet = read_file(path("sheet.svg"));
  EXPECT_THAT(sheet, HasSubstr("<svg"));
}

// What nobody measured is NOT KNOWN on the screen, and no file is written that cuts deeper until that is accepted.
TEST_F(PocketVerb, AsksBeforeItCutsACrownThatIsNotKnown) {
  std::string text = read_file(model("inline_six_big_valve"));
  text = replaced(text, "underside         = 0.400\n", "");
  const std::string engine = path("thin.toml").string(), fixed = path("fixed.toml").string();
  write_file(engine, text);
  const Outcome refused = run({"pocket", engine, "--existing", "--fix", fixed});
  EXPECT_EQ(refused.status, 2);
  EXPECT_THAT(refused.err, AllOf(HasSubstr("crown left is NOT KNOWN (piston.underside not stated)"),
                                 HasSubstr("--crown-not-known")));
  EXPECT_THAT(names(), Not(::testing::Contains("fixed.toml")));
  const Outcome outcome = run({"pocket", engine, "--existing", "--fix", fixed, "--crown-not-known"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("NOT KNOWN"), HasSubstr("piston.underside not stated")));
  EXPECT_THAT(names(), ::testing::Contains("fixed.toml"));
}

TEST_F(PocketVerb, RefusesWordsThatItDoesNotKnow) {
  const std::string engine = kEngine;
  const auto expect_usage = [&](std::vector<std::string> words, const std::string& says) {
    words.insert(words.begin(), {"pocket", engine});
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.status, 2) << outcome.out;
    EXPECT_THAT(outcome.err, HasSubstr(says));
  };
  expect_usage({"--corner", "1.5"}, "--corner: \"1.5\" has no unit");
  expect_usage({"--corner", "1mm,x"}, "--corner: \"x\" is no length");
  expect_usage({"--cutter", "0mm"}, "--cutter: \"0mm\" is out of range");
  expect_usage({"--tilt", "80"}, "--tilt: \"80\" is no tilt");
  expect_usage({"--existing", "--tilt", "3"}, "--tilt: --existing keeps place, tilt and cutter");
  expect_usage({"--crown-not-known"}, "--crown-not-known: goes with --fix");
  expect_usage({"--cornr", "1mm"}, "did you mean \"--corner\"?");
  expect_usage({"--fix", engine}, "is the engine file; write to another");
}

TEST_F(PocketVerb, StopsWhenInterrupted) {
  const Child child = start({"pocket", model("canted_valve").string()}, {.terminal = true});
  const Outcome outcome = finish(child, "sizing pockets", 2);
  EXPECT_EQ(outcome.status, 130) << outcome.out;
}

}  // namespace
}  // namespace eyebrow::testing
