// `eyebrow check` with what moves its gaps: --explain, reading errors, --plot.
#include <gmock/gmock.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

class Effects : public ProgramTest {
 protected:
  std::string wedge(const std::string& from, const std::string& to) const {
    write_file(path("engine.toml"), replaced(read_file(model("two_valve_wedge")), from, to));
    return path("engine.toml").string();
  }
};

TEST_F(Effects, ReadingErrorsAreToldWithTheReadingThatMattersMost) {
  const std::string engine = wedge("rim_height = 0.560 ", "rim_height = \"0.560 ± 0.005\" ");
  const Outcome outcome = run({"check", engine, "--step", "10"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  // The valve stands over a floor square to its axis: cos(23 degrees) of 0.005 in, rounded up.
  EXPECT_THAT(outcome.out,
              HasSubstr("intake.travel                   +- 0.005 in, most of it from valve.intake.rim_height"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("exhaust.travel                  +-")));
  EXPECT_THAT(run({"check", model("two_valve_wedge").string(), "--step", "10"}).out, Not(HasSubstr("reading errors")));
}

// Closed form: the valve stands over a floor square to its axis, both tilted by 23 degrees, and the gasket lifts it up.
TEST_F(Effects, ExplainRanksTheInputsInTextAndJson) {
  const std::string engine = wedge("rim_height = 0.560 ", "rim_height = \"0.560 ± 0.005\" ");
  using nlohmann::json;
  const Outcome outcome = run({"check", engine, "--step", "10", "--explain", "--json", path("a.json").string()});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("Influence on the least gaps, inches"));
  EXPECT_THAT(outcome.out, HasSubstr("gasket.thickness                      0.001 in  +0.00092  +0.00092"));
  EXPECT_LT(outcome.out.find("  valve.intake.tilt"), outcome.out.find("  gasket.thickness"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("asked.")));
  const json told = json::parse(read_file(path("a.json")));
  const double cosine = std::cos(23 * 3.14159265358979 / 180);
  for (const json& each : told.at("readings"))
    if (each["gap"] == "intake.face") {
      EXPECT_EQ(each["most"], "valve.intake.rim_height");
      EXPECT_NEAR(each["plus_minus"].get<double>(), 0.005 * 25.4 * cosine, 0.002);
    }
  bool gasket = false;
  for (const json& each : told.at("influence")) {
    if (each["key"] != "gasket.thickness") continue;
    gasket = true;
    EXPECT_EQ(each["per"], "mm");
    EXPECT_NEAR(each["change"]["intake.face"].get<double>(), cosine, 0.002);
    EXPECT_NEAR(each["change"]["piston.head"].get<double>(), 1, 1e-6);
  }
  EXPECT_TRUE(gasket);
  const json plain = json::parse(run({"check", model("two_valve_wedge").string(), "--step", "10", "--json", "-"}).out);
  EXPECT_FALSE(plain.contains("influence") || plain.contains("readings"));
}

TEST_F(Effects, PlotsAreWrittenWhole) {
  const std::string engine = model("two_valve_wedge").string();
  const auto plot = [&](const std::string& name) {
    const Outcome outcome = run({"check", engine, "--step", "10", "--quiet", "--plot", path(name).string()});
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    return read_file(path(name));
  };
  EXPECT_THAT(plot("a.png"), StartsWith("\x89PNG\r\n\x1a\n"));
  EXPECT_THAT(plot("a.pdf"), StartsWith("%PDF-"));
  EXPECT_THAT(plot("a.svg"), HasSubstr("two-valve wedge (invented)"));
  const Outcome map = run({"map", engine, "--vary", "cam.advance=-2:2:2", "--quiet", "--plot", path("m.svg").string()});
  EXPECT_EQ(map.status, 0) << map.err;
  EXPECT_THAT(read_file(path("m.svg")), HasSubstr("cam.advance"));
  const Outcome wrong = run({"check", engine, "--plot", path("a.jpg").string()});
  EXPECT_EQ(wrong.status, 2);
  EXPECT_THAT(wrong.err, HasSubstr("ends in .svg, .pdf or .png"));
}

}  // namespace
}  // namespace eyebrow::testing
