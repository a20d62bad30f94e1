// `eyebrow compare` from its command line. Engines are the invented models.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

class Compare : public ProgramTest {};

const std::string kStock = model("inline_six_stock").string();
const std::string kBig = model("inline_six_big_valve").string();

TEST_F(Compare, AHeadSwapIsToldWholeAndAgreesWithTheChecks) {
  const Outcome outcome = run({"compare", kStock, kBig, "--json", path("c.json").string(), "--plot",
                               path("c.svg").string(), "--valve", "intake", "--no-remedies"});
  EXPECT_EQ(outcome.status, 1) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  EXPECT_THAT(outcome.out, HasSubstr("inline six, big-valve head (invented)"));
  EXPECT_THAT(outcome.out, HasSubstr("valve.intake.head_diameter"));
  EXPECT_THAT(outcome.out, HasSubstr("rim to wall"));
  EXPECT_THAT(outcome.out, HasSubstr("turned by hand"));
  const std::string picture = read_file(path("c.svg"));
  EXPECT_THAT(picture, HasSubstr("Gaps of engines side by side"));

  const json both = json::parse(read_file(path("c.json")));
  const json check = json::parse(run({"check", kBig, "--step", "10", "--no-remedies", "--json", "-"}).out);
  ASSERT_EQ(both["gaps"].size(), check["asked"].size());
  for (std::size_t i = 0; i < check["asked"].size(); ++i) {
    EXPECT_EQ(both["gaps"][i]["what"], check["asked"][i]["what"]);
    EXPECT_EQ(both["gaps"][i]["engines"][1]["found"], check["asked"][i]["found"]);
    EXPECT_EQ(both["gaps"][i]["engines"][1]["holds"], check["asked"][i]["holds"]);
  }
  // By hand from the two files, in inches: the big intake's axis crosses the crown flat at x = 0.072 - 0.334 tan 12,
  // y = 0.808; its pocket stands at -0.008, 0.780.
  for (const json& landing : both["landings"])
    if (landing["engine"] == 2 && landing["valve"] == "intake") {
      EXPECT_NEAR(landing["x"].get<double>() / 25.4, 0.072 - 0.334 * 0.21255656 + 0.008, 1e-6);
      EXPECT_NEAR(landing["y"].get<double>() / 25.4, 0.028, 1e-9);
      EXPECT_NEAR(landing["radius_more"].get<double>() / 25.4, 0.050, 1e-9);
    }
}

// Only the gasket is between piston and head, so the engine that is short of it has one remedy.
TEST_F(Compare, TellsWhatWouldMakeTheShortOneFit) {
  write_file(path("tight.toml"), replaced(read_file(kStock), "piston_to_head = 0.035", "piston_to_head = 0.050"));
  const Outcome outcome = run({"compare", kStock, "tight.toml", "--json", path("c.json").string()});
  EXPECT_EQ(outcome.status, 1) << outcome.err;
  const json both = json::parse(read_file(path("c.json")));
  EXPECT_TRUE(both["engines"][0]["remedies"].empty());
  ASSERT_EQ(both["engines"][1]["remedies"].size(), 1u);
  EXPECT_EQ(both["engines"][1]["remedies"][0]["gap"], "piston.head");
  EXPECT_THAT(outcome.out, HasSubstr("Engine 2: what would make it fit"));
  EXPECT_THAT(outcome.out, HasSubstr("gasket.thickness"));
}

TEST_F(Compare, WhatIsSetIsSetInEveryEngineAndMeasuredCylindersHaveNoPart) {
  const Outcome outcome = run({"compare", kStock, model("inline_six_measured").string(), "--set",
                               "gasket.thickness=0.030", "--no-remedies", "--units", "mm", "--digits", "3"});
  EXPECT_EQ(outcome.status, 1) << "0.030 in of gasket, 0.035 in asked to the head";
  EXPECT_THAT(outcome.err, HasSubstr("the file's own numbers are compared"));
  EXPECT_THAT(outcome.out, HasSubstr("changed from the file: gasket.thickness=0.030"));
  EXPECT_THAT(outcome.out, HasSubstr("0.889   0.762!"));
}

TEST_F(Compare, TellsTheFaultsOfAllFilesAtOnce) {
  write_file(path("a.toml"), replaced(read_file(kStock), "bore               = 3.800", "boer = 3.800"));
  write_file(path("b.toml"), replaced(read_file(kBig), "stroke             = 3.530", "stroke = 99"));
  const Outcome outcome = run({"compare", "a.toml", "b.toml", kStock, "--set", "gasket.thicknes=1"});
  EXPECT_EQ(outcome.status, 3);
  EXPECT_EQ(outcome.out, "");
  EXPECT_THAT(outcome.err, HasSubstr("a.toml:"));
  EXPECT_THAT(outcome.err, HasSubstr("\"boer\""));
  EXPECT_THAT(outcome.err, HasSubstr("b.toml:"));
  EXPECT_THAT(outcome.err, HasSubstr("cylinder.stroke"));
  const auto first = outcome.err.find("thicknes");
  ASSERT_NE(first, std::string::npos);
  EXPECT_EQ(outcome.err.find("\"thicknes\"", first + 12), std::string::npos) << "the same for all: told once";
}

TEST_F(Compare, AnOverrideThatOneEngineLacksNamesIt) {
  const Outcome outcome =
      run({"compare", kStock, model("four_valve_pent_roof").string(), "--set", "valve.intake.sunk=0.1 mm"});
  EXPECT_EQ(outcome.status, 3);
  EXPECT_THAT(outcome.err, HasSubstr("(in " + model("four_valve_pent_roof").string() + ")"));
  EXPECT_THAT(outcome.err, Not(HasSubstr("(in " + kStock)));
}

TEST_F(Compare, RefusesWhatMakesNoComparison) {
  const auto refused = [&](const std::vector<std::string>& words, const std::string& message) {
    std::vector<std::string> all{"compare"};
    all.insert(all.end(), words.begin(), words.end());
    const Outcome outcome = run(all);
    EXPECT_EQ(outcome.status, 2) << outcome.out;
    EXPECT_THAT(outcome.err, HasSubstr(message));
    EXPECT_EQ(outcome.out, "");
  };
  refused({}, "ENGINE");
  refused({kStock}, "two engine files or more");
  refused({kStock, kBig, "--valve", "intake"}, "give --plot too");
  refused({kStock, kBig, "--valve", "intaek", "--plot", path("p.svg").string()}, "did you mean \"intake\"");
  refused({kStock, kBig, kBig, kBig, kBig, "--plot", path("p.svg").string()}, "tells 4 engines apart, not 5");
  refused({kStock, kBig, "--plto", "p.svg"}, "did you mean \"--plot\"");
  refused({kStock, kBig, "--json", kBig}, "engine file");
}

}  // namespace
}  // namespace eyebrow::testing
