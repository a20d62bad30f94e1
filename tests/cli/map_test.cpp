// `eyebrow map` from its command line. Engines are the invented models.
#include <fmt/format.h>
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

class Map : public ProgramTest {};

TEST_F(Map, TellsEveryGapOverOneInput) {
  const Outcome outcome = run({"map", model("two_valve_wedge").string(), "--vary", "cam.advance=-4:4:4"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, AllOf(HasSubstr("cam.advance from -4 to 4 deg"), HasSubstr("i = intake, e = exhaust")));
  const std::vector<std::string> lines = lines_of(outcome.out);
  const auto line = [&](const std::string& value) {
    for (const std::string& each : lines)
      if (each.find(value + " deg ") != std::string::npos) return each;
    return std::string();
  };
  EXPECT_THAT(line("-4"), HasSubstr("SHORT"));
  EXPECT_THAT(line("-4"), HasSubstr("exhaust.travel"));
  EXPECT_THAT(line("-4"), HasSubstr("!e"));
  EXPECT_THAT(line(" 0"), HasSubstr("holds"));
  EXPECT_THAT(line(" 4"), HasSubstr("intake.travel"));
}

TEST_F(Map, TellsHowFarAnInputMayGo) {
  const Outcome outcome =
      run({"map", model("two_valve_wedge").string(), "--vary", "cam.advance=-20:20:5", "--allowed"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  // The check's reserve finds the same ends its own way.
  const json check = json::parse(run({"check", model("two_valve_wedge").string(), "--step", "10", "--json", "-"}).out);
  const json& reserve = check["reserves"][0];
  const auto text = [](double degrees) { return fmt::format("{:.3g} deg", degrees); };
  EXPECT_THAT(outcome.out, HasSubstr("cam.advance may go from " + text(-reserve["late"]["by"].get<double>()) + " to " +
                                     text(reserve["early"]["by"].get<double>()) + ": "));
  EXPECT_THAT(outcome.out, HasSubstr("intake.travel is short"));
  EXPECT_THAT(outcome.out, HasSubstr("exhaust.travel is short"));
  EXPECT_THAT(outcome.out,
              HasSubstr("from " + text(reserve["early_contact"]["by"].get<double>() + 0.1) + " on parts touch"));
}

TEST_F(Map, WritesTheSameNumbersAsCsvAndJson) {
  const Outcome outcome = run({"map", model("two_valve_wedge").string(), "--vary", "cam.advance=-2:2:2", "--vary",
                               "gasket.thickness=0.040 in:0.050 in:0.010 in", "--csv", path("m.csv").string(), "--json",
                               path("m.json").string()});
  ASSERT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("gasket.thickness (in) across"));
  const json map = json::parse(read_file(path("m.json")));
  EXPECT_EQ(map["schema"], "eyebrow.map/1");
  EXPECT_EQ(map["inputs"][1]["unit"], "in");
  ASSERT_EQ(map["cells"].size(), 6u);
  const std::vector<std::string> rows = lines_of(read_file(path("m.csv")));
  ASSERT_EQ(rows.size(), 7u);
  EXPECT_THAT(rows[0], HasSubstr("cam.advance deg,gasket.thickness in,intake.travel in"));
  EXPECT_THAT(rows[1], HasSubstr("-2,0.04,"));
  EXPECT_THAT(rows[2], HasSubstr("0,0.04,")) << "the first input goes first";
  // Lengths of the table are rounded down, at three decimals of an inch.
  const double travel = map["cells"][0]["found"][0].get<double>() / 25.4;
  const double told = std::stod(rows[1].substr(8));
  EXPECT_LE(told, travel);
  EXPECT_GT(told, travel - 0.001);
}

TEST_F(Map, ShowsTheGapThatIsChosen) {
  const Outcome outcome = run({"map", model("two_valve_wedge").string(), "--vary", "gasket.thickness=0.030:0.050:0.010",
                               "--gap", "piston.head", "--units", "mm"});
  ASSERT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("piston.head"));
  EXPECT_THAT(outcome.out, HasSubstr("0.76!")) << "0.030 in, the deck clearance is 0";
  EXPECT_THAT(outcome.out, Not(HasSubstr("radial ")));
}

TEST_F(Map, RefusesWhatItCannotVary) {
  const std::string engine = model("two_valve_wedge").string();
  const auto refused = [&](const std::vector<std::string>& words, int status, const std::string& message) {
    std::vector<std::string> all{"map", engine};
    all.insert(all.end(), words.begin(), words.end());
    const Outcome outcome = run(all);
    EXPECT_EQ(outcome.status, status) << outcome.out;
    EXPECT_THAT(outcome.err, HasSubstr(message));
    EXPECT_EQ(outcome.out, "");
  };
  refused({}, 2, "--vary");
  refused({"--vary", "cam.advance"}, 2, "has no '='");
  refused({"--vary", "cam.advance=1:2"}, 2, "needs three numbers");
  refused({"--vary", "cam.advance=1:2:3:4"}, 2, "more than three numbers");
  refused({"--vary", "cam.advance=2:1:1"}, 2, "ends below where it begins");
  refused({"--vary", "cam.advance=1:2:0"}, 2, "step that is not above zero");
  refused({"--vary", "cam.advance=1:2:0.0001"}, 2, "more than 1000");
  refused({"--vary", "gasket.thickness=1 mm:0.05 in:0.1 mm"}, 2, "mixes mm and in");
  refused({"--vary", "cam.advance=1:2:1", "--vary", "cam.advance=1:2:1"}, 2, "varied twice");
  refused({"--vary", "cam.advance=1:2:1", "--gap", "intake.travl"}, 2, "did you mean \"intake.travel\"");
  refused({"--vary", "a=1:2:1", "--vary", "b=1:2:1", "--vary", "c=1:2:1"}, 2, "one input or two");
  refused({"--vary", "cam.advance=1:2:1", "--vary", "gasket.thickness=1:2:1", "--allowed"}, 2, "tells of one input");
  refused({"--vary", "gasket.thicknes=0.03:0.05:0.01"}, 3, "thickness");
}

TEST_F(Map, SaysWhereThereIsNoEngine) {
  const Outcome outcome = run({"map", model("two_valve_wedge").string(), "--vary", "gasket.thickness=0.040:2.040:2"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("no engine at 1 of 2: "));
  EXPECT_THAT(outcome.out, HasSubstr("gasket.thickness"));
}

}  // namespace
}  // namespace eyebrow::testing
