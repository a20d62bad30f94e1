// `eyebrow check` on engines whose cams move and that run: what one position at rest would not have told. All invented.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

class Positions : public ProgramTest {
 protected:
  struct Told {
    json numbers;
    std::string text;
  };
  Told result(const std::string& engine) const {
    const std::string file = path(engine + ".json").string();
    const Outcome outcome = run({"check", model(engine).string(), "--step", "10", "--json", file, "--no-remedies"});
    Told told{json::parse(read_file(file), nullptr, false), outcome.out};
    EXPECT_FALSE(told.numbers.is_discarded()) << outcome.err;
    return told;
  }
};

TEST_F(Positions, TheParkedPositionAloneMisleadsByMillimetres) {
  const json parked = result("four_valve_pent_roof").numbers;
  const auto [phased, text] = result("four_valve_pent_roof_phased");
  for (std::size_t i = 0; i < 4; ++i) {
    const json &one = parked["valves"][i], &all = phased["valves"][i];
    ASSERT_EQ(one["name"], all["name"]);
    for (const char* kind : {"travel", "face", "radial", "closest"}) {
      // At the file's own position it is what the check of that position alone tells.
      EXPECT_NEAR(all["as_set"][kind]["value"].get<double>(), one["minimum"][kind]["value"].get<double>(), 0.001);
      EXPECT_LE(all["minimum"][kind]["value"].get<double>(), one["minimum"][kind]["value"].get<double>());
    }
    const double lost =
        one["minimum"]["travel"]["value"].get<double>() - all["minimum"]["travel"]["value"].get<double>();
    EXPECT_GT(lost, 2);
    // Intake most advanced, exhaust most retarded (common practice).
    EXPECT_NEAR(all["minimum"]["travel"]["advance"].get<double>(), i < 2 ? 32 : -20, 0.01);
  }
  EXPECT_EQ(phased["conditions"]["stops"]["intake"], json::array({0, 32}));
  EXPECT_THAT(text, HasSubstr("travel at advanced 32 deg"));
  EXPECT_THAT(text, HasSubstr("As the file"));
  EXPECT_THAT(text, HasSubstr("anywhere from unmoved to advanced 32 deg"));
  EXPECT_THAT(text, HasSubstr("one tooth out, 17.1 deg of crank"));
}

TEST_F(Positions, RunningTightensAndNamesWhatTakesHowMuch) {
  const json rest = result("two_valve_wedge").numbers;
  const auto [speed, text] = result("two_valve_wedge_at_speed");
  for (std::size_t i = 0; i < 2; ++i) {
    const json &at_rest = rest["valves"][i], &running = speed["valves"][i]["running"];
    EXPECT_TRUE(at_rest["running"].is_null());
    for (const char* kind : {"travel", "face", "radial", "closest"}) {
      const double found = at_rest["card"][kind]["least"].get<double>(), left = running[kind]["value"].get<double>();
      EXPECT_LT(left, found);
      double taken = 0;
      for (const auto& [name, length] : running[kind]["taken"].items()) {
        EXPECT_GE(length.get<double>(), 0) << name;
        taken += length.get<double>();
      }
      // Each alone and all together: nearly the sum, as gaps are nearly straight in small changes.
      EXPECT_NEAR(found - left, taken, 0.35 * taken) << kind;
    }
  }
  EXPECT_GE(speed["allowances"].size(), 10u);
  int judged = 0;
  for (const json& row : speed["asked"]) judged += row["running"].get<bool>();
  EXPECT_EQ(judged, 8);
  EXPECT_THAT(text, HasSubstr("found running   asked"));
  EXPECT_THAT(text, HasSubstr("nothing is stated of, and nothing counted for: loft, intake"));
}

}  // namespace
}  // namespace eyebrow::testing
