// `eyebrow new` and `eyebrow export`.
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <fmt/format.h>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

class New : public ProgramTest {};
class Export : public ProgramTest {};

TEST_F(New, WritesAFileThatChecks) {
  const Outcome made = run({"new", "engine.toml"});
  EXPECT_EQ(made.status, 0) << made.err;
  EXPECT_THAT(made.out, HasSubstr("eyebrow check engine.toml"));
  const std::string text = read_file(path("engine.toml"));
  EXPECT_GT(std::count(text.begin(), text.end(), '#'), 20) << "commented";
  const Outcome checked = run({"check", "engine.toml"});
  EXPECT_EQ(checked.status, 0) << checked.out;
  EXPECT_THAT(checked.err, IsEmpty()) << "not even a warning";
}

TEST_F(New, ReplacesOnlyWhenForced) {
  write_file(path("engine.toml"), "mine");
  const Outcome refused = run({"new", "engine.toml"});
  EXPECT_EQ(refused.status, 2);
  EXPECT_THAT(refused.err, AllOf(HasSubstr("engine.toml"), HasSubstr("--force")));
  EXPECT_EQ(read_file(path("engine.toml")), "mine");
  const Outcome forced = run({"new", "engine.toml", "--force", "--quiet"});
  EXPECT_EQ(forced.status, 0);
  EXPECT_THAT(forced.out, IsEmpty());
  EXPECT_THAT(read_file(path("engine.toml")), HasSubstr("[cylinder]"));
}

// ISO 10303-21: an exchange structure starts with "ISO-10303-21;" and ends with "END-ISO-10303-21;".
TEST_F(Export, WritesSolidsAsStep) {
  const Outcome outcome = run({"export", kEngine, "-o", "engine.step"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("engine.step: crown, 2 valves, bore, gasket and 11 gaps at 0.0 TDC"));
  EXPECT_EQ(lines_of(outcome.out).size(), 1u) << "no banner of a library: " << outcome.out;
  EXPECT_THAT(outcome.err, IsEmpty());
  const std::string text = read_file(path("engine.step"));
  EXPECT_THAT(text, StartsWith("ISO-10303-21;"));
  EXPECT_THAT(text, HasSubstr("END-ISO-10303-21;"));
  std::size_t solids = 0;
  for (std::size_t at = 0; (at = text.find("MANIFOLD_SOLID_BREP", at)) != std::string::npos; ++at) ++solids;
  EXPECT_GE(solids, 3u) << "a crown and two valves at least";
  EXPECT_THAT(names(), ElementsAre("engine.step"));
}

TEST_F(Export, PlacesThePartsAtTheCrankAngle) {
  EXPECT_EQ(run({"export", kEngine, "-o", "a.step", "--at", "12.5ATDC", "--quiet"}).status, 0);
  EXPECT_EQ(run({"export", kEngine, "-o", "b.step", "--at", "12.5", "--quiet"}).status, 0);
  EXPECT_EQ(run({"export", kEngine, "-o", "c.step", "--at", "8BTDC", "--quiet"}).status, 0);
  const auto data = [&](const char* name) {  // the header holds name and date
    const std::string text = read_file(path(name));
    return text.substr(text.find("DATA;"));
  };
  EXPECT_EQ(data("a.step"), data("b.step"));
  EXPECT_NE(data("a.step"), data("c.step"));
}

/// Value and points of a gap, as `check --json` has its least and as the exported curve has it.
TEST_F(Export, DrawsTheTightestGapAsACurve) {
  const Outcome outcome = run({"export", kEngine, "-o", "t.step", "--at", "tightest:intake.closest"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("at intake.closest, "));
  const nlohmann::json least = nlohmann::json::parse(
      run({"check", kEngine, "--json", "-", "--no-remedies"}).out)["valves"][0]["minimum"]["closest"];
  const std::string text = read_file(path("t.step"));
  EXPECT_THAT(text, HasSubstr(fmt::format("PRODUCT('intake.closest {:.3f} mm'", least["value"].get<double>())));
  EXPECT_THAT(names(), ElementsAre("t.step"));
  EXPECT_THAT(text, AllOf(HasSubstr("PRODUCT('intake/exhaust "), HasSubstr("PRODUCT('exhaust.bore ")));

  const Outcome wrong = run({"export", kEngine, "-o", "u.step", "--at", "tightest:intake.clossest"});
  EXPECT_EQ(wrong.status, 2);
  EXPECT_THAT(wrong.err, HasSubstr("did you mean \"intake.closest\""));
}

TEST_F(Export, WritesNothingWhenTheInputIsWrong) {
  const Outcome outcome = run({"export", kEngine, "-o", "engine.step", "--set", "cylinder.bore=-1"});
  EXPECT_EQ(outcome.status, 3);
  EXPECT_THAT(outcome.out, IsEmpty());
  EXPECT_THAT(names(), IsEmpty());
}

}  // namespace
}  // namespace eyebrow::testing
