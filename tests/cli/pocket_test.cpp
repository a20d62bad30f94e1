// `eyebrow pocket` from its command line. Engines are the invented models.
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <map>
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

TEST_F(PocketVerb, ReportsWhatDoesNotFitAndWritesNoFile) {
  const Outcome outcome = run({"pocket", kEngine, "--cutter", "20mm", "--keep-place", "--fix", "fits.toml"});
  EXPECT_EQ(outcome.status, 1) << outcome.err;
  const auto told = outcome.out.find("NO SUCH POCKET FITS");
  ASSERT_NE(told, std::string::npos);
  EXPECT_THAT(outcome.out.substr(told), ::testing::ContainsRegex("intake\\.closest: [0-9.]+ in too little"));
  EXPECT_THAT(outcome.err, HasSubstr("no pocket fits what is asked: fits.toml is not written"));
  EXPECT_THAT(names(), IsEmpty());
}

// Within tolerances: `eyebrow stack` of the file that is written, which knows nothing of how it came about, has every
// gap of the valves to the piston in its worst case. With the pocket 0.0002 in (5 um) shallower a check of the engine
// at the tolerances' tight ends has not.
TEST_F(PocketVerb, WritesAFileWhoseStackHoldsInTheWorstCase) {
  const std::string engine = path("made.toml").string(), fixed = path("fixed.toml").string();
  write_file(engine, read_file(kEngine) +
                         "\n[tolerance]\n\"cylinder.deck_clearance\" = \"± 0.001\"\n\"pocket.intake.depth\" = "
                         "\"± 0.002\"\n");
  const Outcome outcome = run({"pocket", engine, "--worst-case", "--keep-place", "--fix", fixed, "--json",
                               path("p.json").string(), "--sheet", path("sheet.svg").string()});
  ASSERT_EQ(outcome.status, 0) << outcome.err << outcome.out;
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("anywhere within the tolerances"), HasSubstr("most by pocket.intake.depth"),
                                 HasSubstr("Tolerances of a pocket"), HasSubstr("no permission to cut")));
  EXPECT_THAT(outcome.err, Not(HasSubstr("[tolerance] has no part")));
  EXPECT_THAT(read_file(path("sheet.svg")), HasSubstr("anywhere within the tolerances"));
  const json within = json::parse(read_file(path("p.json")))["within_tolerances"];
  EXPECT_EQ(within["condition"], "worst case");
  EXPECT_EQ(within["shown"], true);

  const auto to_piston = [](const Outcome& stacked) {
    std::map<std::string, json> gaps;
    const json result = json::parse(stacked.out);
    for (const json& gap : result["gaps"])
      if (const std::string what = gap["what"];
          what == "travel" || what == "face" || what == "radial" || what == "closest")
        gaps[gap["name"]] = gap;
    return gaps;
  };
  const auto held = to_piston(run({"stack", fixed, "--samples", "1000", "--json", "-"}));
  ASSERT_EQ(held.size(), 8u);
  for (const auto& [name, gap] : held) EXPECT_EQ(gap["worst"]["holds"], true) << name << gap;
  for (const json& gap : within["gaps"])
    EXPECT_NEAR(gap["worst"].get<double>(), held.at(gap["gap"])["worst"]["value"].get<double>(), 0.001) << gap;

  const json pocket = json::parse(read_file(path("p.json")))["pockets"][0]["pocket"];
  ASSERT_EQ(pocket["name"], "intake");
  const auto at_tight_ends = [&](double deeper) {
    const double depth = pocket["depth"].get<double>() / 25.4 - 0.002 + deeper;
    return json::parse(
        run({"check", fixed, "--step", "10", "--no-remedies", "--json", "-", "--set",
             "cylinder.deck_clearance=-0.001 in", "--set", "pocket.intake.depth=" + std::to_string(depth) + " in"})
            .out)["asked"];
  };
  const auto holds = [](const json& rows, const std::string& valve) {
    for (const json& row : rows)
      if (row["valve"] == valve && row["what"] == "travel") return row["holds"].get<bool>();
    ADD_FAILURE() << "no travel of " << valve;
    return false;
  };
  EXPECT_TRUE(holds(at_tight_ends(0), "intake"));
  EXPECT_FALSE(holds(at_tight_ends(-0.0002), "intake"));
  EXPECT_TRUE(holds(at_tight_ends(-0.0002), "exhaust"));
}

TEST_F(PocketVerb, NeedsTolerancesToSizeWithin) {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"--worst-case"}, std::vector<std::string>{"--share", "99%"}}) {
    std::vector<std::string> all{"pocket", kEngine};
    all.insert(all.end(), words.begin(), words.end());
    const Outcome none = run(all);
    EXPECT_EQ(none.status, 3) << none.out;
    EXPECT_THAT(none.err, HasSubstr("no number has a tolerance: " + words.front() + " needs the table [tolerance]"));
    all.insert(all.end(), {"--set", "tolerance.cam.advance=+- 0"});
    const Outcome zero = run(all);
    EXPECT_EQ(zero.status, 3) << zero.out;
    EXPECT_THAT(zero.err, HasSubstr("every tolerance is 0"));
  }
}

TEST_F(PocketVerb, LeavesNoToleranceBehindInTheFileThatItWrites) {
  const std::string engine = path("arc.toml").string(), fixed = path("fixed.toml").string();
  write_file(engine, replaced(read_file(kEngine), "diameter = 1.730", "arc_chord = 1.6\narc_height = 0.5") +
                         "\n[tolerance]\n\"pocket.exhaust.arc_chord\" = \"± 0.004\"\n");
  const Outcome outcome = run({"pocket", engine, "--fix", fixed});
  EXPECT_EQ(outcome.status, 2) << outcome.out;
  EXPECT_THAT(outcome.err, HasSubstr("--fix: a diameter takes the place of pocket.exhaust.arc_chord"));
  EXPECT_THAT(names(), Not(::testing::Contains("fixed.toml")));
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
  expect_usage({"--share", "99.9"}, "--share: \"99.9\" is no usable share of engines; allowed: 50% to 99.999%");
  expect_usage({"--share", "40%"}, "is no usable share");
  expect_usage({"--share", "100%"}, "is no usable share");
  expect_usage({"--share", "%"}, "is no usable share");
  expect_usage({"--share", "99%", "--worst-case"}, "give one of the two");
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
