// `eyebrow stack` from its command line. Engines are the invented models; tolerances of what moves parts alone, as
// these take the least time.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

class Stack : public ProgramTest {
 protected:
  Outcome stack(std::vector<std::string> words) const {
    std::vector<std::string> all{"stack", kEngine,
                                 "--set", "tolerance.cam.advance=+- 1",
                                 "--set", "tolerance.cylinder.deck_clearance=+- 0.001 in"};
    all.insert(all.end(), words.begin(), words.end());
    return run(all);
  }
};

TEST_F(Stack, TellsWorstCaseSpreadAndWhatDrivesIt) {
  const Outcome outcome = stack({"--json", path("s.json").string(), "--csv", path("s.csv").string(), "--plot",
                                 path("h.svg").string(), "--bars", path("b.png").string()});
  EXPECT_EQ(outcome.status, 0) << outcome.err << outcome.out;
  EXPECT_THAT(outcome.out, HasSubstr("Tolerance stack of 2 inputs: 100000 engines drawn (seed 1)."));
  EXPECT_THAT(outcome.out, HasSubstr("Verdict: holds, in the worst case"));
  EXPECT_THAT(outcome.out, HasSubstr("Caution: an aid."));
  EXPECT_THAT(outcome.err, Not(HasSubstr("tolerance")));
  const json result = json::parse(read_file(path("s.json")));
  EXPECT_EQ(result["schema"], "eyebrow.stack/1");
  EXPECT_EQ(result["holds_at_worst"], true);
  EXPECT_EQ(result["inputs"][0]["unit"], "deg");
  const auto rows = lines_of(read_file(path("s.csv")));
  EXPECT_EQ(rows.size(), result["gaps"].size() + 1);
  EXPECT_THAT(read_file(path("h.svg")), HasSubstr("worst case"));
  EXPECT_THAT(read_file(path("b.png")), ::testing::StartsWith("\x89PNG"));

  // The worst engine, set by hand, is what a check finds there.
  const json& travel = result["gaps"][0];
  ASSERT_EQ(travel["name"], "intake.travel");
  std::vector<std::string> words{"check", kEngine, "--step", "10", "--json", "-"};
  for (std::size_t i = 0; i < result["inputs"].size(); ++i) {
    const json& input = result["inputs"][i];
    const double value = input["value"].get<double>() + travel["worst"]["inputs_moved_by"][i].get<double>();
    words.push_back("--set");
    words.push_back(input["key"].get<std::string>() + "=" + std::to_string(value) + " " +
                    input["unit"].get<std::string>());
  }
  const json check = json::parse(run(words).out);
  const json& row = check["asked"][0];
  ASSERT_EQ(row["what"], "travel");
  EXPECT_NEAR(row["found"].get<double>(), travel["worst"]["value"].get<double>(), 0.003);
}

TEST_F(Stack, IsOneWhereTheWorstCaseIsShort) {
  const Outcome outcome = stack({"--set", "asked.piston_to_head=0.0405", "--gap", "piston.head", "--samples", "1000"});
  EXPECT_EQ(outcome.status, 1) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("Verdict: SHORT in the worst case."));
  EXPECT_THAT(outcome.out, HasSubstr("cylinder.deck_clearance -0.001 in"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("intake.travel")));
}

TEST_F(Stack, SaysWhatIsWrong) {
  const auto refused = [](const Outcome& outcome, int status, const std::string& message) {
    EXPECT_EQ(outcome.status, status) << outcome.out;
    EXPECT_THAT(outcome.err, HasSubstr(message));
  };
  refused(run({"stack", kEngine}), 3, "no number has a tolerance: a stack needs the table [tolerance]");
  refused(run({"stack", kEngine, "--set", "tolerance.cam.advance=+- 0"}), 3, "every tolerance is 0");
  refused(stack({"--gap", "intake.travle"}), 2, "did you mean \"intake.travel\"?");
  refused(stack({"--samples", "10"}), 2, "allowed: 100 to 1000000");
  refused(stack({"--seed", "-1"}), 2, "is no seed");
  refused(stack({"--bars", "b.gif"}), 2, "ends in .svg, .pdf or .png");
  refused(stack({"--plot", "b.svg", "--bars", "b.svg"}), 2, "both name");
}

TEST_F(Stack, OtherVerbsPointAtIt) {
  const Outcome outcome = run({"check", kEngine, "--step", "10", "--set", "tolerance.cam.advance=+- 1"});
  EXPECT_EQ(outcome.status, 0);
  EXPECT_THAT(outcome.err, HasSubstr("`eyebrow stack` tells what it makes of the gaps"));
}

}  // namespace
}  // namespace eyebrow::testing
