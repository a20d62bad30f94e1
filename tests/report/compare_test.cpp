// Engines side by side: text, JSON and plot of results made by hand.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "eyebrow/compare_report.hpp"
#include "report/plot_checks.hpp"
#include "report/plot_compare.hpp"
#include "report/plot_look.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using nlohmann::json;
using plot::draw_compare;
using testing::expect_tidy;
using ::testing::HasSubstr;
using testing::kInches;
using testing::kMm;
using ::testing::Not;
using testing::sample_contact;
using testing::sample_result;
using testing::words_of;

constexpr double kMil = kInch / 1000;

/// The sample, and the same in contact by another gasket, with a valve that lands elsewhere.
Comparison two_engines() {
  Comparison of;
  of.files = {"a.toml", "b.toml"};
  of.checks = {sample_result(), sample_contact()};
  of.checks[1].engine = "other engine (invented)";
  of.gaps = gaps_beside(of.checks);
  of.inputs = {{"valve.intake.head_diameter", {{"1.94 in", 1.94, "in"}, {"2.02 in", 2.02, "in"}}, {"valve.rear.x"}},
               {"lobe.intake",
                {{"durations", NAN, ""}, {"table \"lift.csv\"", NAN, ""}},
                {},
                DifferingInput::OtherKeys::unknown},
               {"running.rock", {{"", NAN, ""}, {"2 keys", NAN, ""}}, {}}};
  of.lifts = {{1, "intake", -12 * kMil, 40 * kDegree, 0, 0}};
  Landing own;
  own.valve = own.pocket = "intake";
  own.x = own.y = 0;
  own.tilt_apart = 0;
  own.radius_more = 60 * kMil;
  own.rim_to_wall.fill(60 * kMil);
  Landing other = own;
  other.engine = 1;
  other.x = 30 * kMil;
  other.y = -40 * kMil;
  other.clock = 4.5;
  other.tilt_apart = 2.5 * kDegree;
  other.rim_to_wall[4] = 10 * kMil;
  Landing none;
  none.engine = 1;
  none.valve = "third";
  of.landings = {own, other, none};
  of.landings[2].rim_to_wall.fill(NAN);
  return of;
}

TEST(CompareText, Golden) {
  const std::string text = compare_text(two_engines(), kInches);
  EXPECT_EQ("\n" + text.substr(0, text.find("\nConditions of 1")), R"GOLD(
GOLDEN
)GOLD");
}

TEST(CompareText, TellsConditionsAndTheCaution) {
  const std::string text = compare_text(two_engines(), kMm);
  EXPECT_THAT(text, HasSubstr("\nConditions of 1: parts cold"));
  EXPECT_THAT(text, HasSubstr("\nConditions of 2: parts cold"));
  EXPECT_THAT(text, ::testing::EndsWith("confirm on the assembled engine, turned by hand.\n"));
  EXPECT_THAT(text, HasSubstr("\nintake.travel       2.04    2.74    -0.31x   -3.05\n"));
}

TEST(CompareText, WhatIsTheSameIsSaidInALine) {
  Comparison same = two_engines();
  same.checks[1] = same.checks[0];
  same.gaps = gaps_beside(same.checks);
  same.inputs.clear();
  same.lifts.clear();
  same.landings.resize(1);
  same.landings.push_back(same.landings[0]);
  same.landings[1].engine = same.landings[1].piston = 1;
  const std::string text = compare_text(same, kInches);
  EXPECT_THAT(text, HasSubstr("\nThe files state the same numbers and words.\n"));
  EXPECT_THAT(text, HasSubstr("\nEvery valve stands to its pocket as in engine 1.\n"));
  EXPECT_THAT(text, Not(HasSubstr("Lifts at the valve")));
}

TEST(CompareText, ManyEnginesGoOnBelow) {
  Comparison of = two_engines();
  of.landings.clear();
  of.checks = std::vector<CheckResult>(6, sample_result());
  of.files.resize(6, "c.toml");
  of.gaps = gaps_beside(of.checks);
  for (DifferingInput& input : of.inputs) input.stated.resize(6);
  of.checks[2].verdict = Verdict::short_;
  const std::string text = compare_text(of, kInches);
  std::size_t blocks = 0;
  for (std::size_t at = text.find("\ngap "); at != std::string::npos; at = text.find("\ngap ", at + 1)) ++blocks;
  EXPECT_EQ(blocks, 2u);
  EXPECT_THAT(text, HasSubstr("6 - 1"));
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = text.find('\n', from);
    EXPECT_LE(to - from, 126u) << text.substr(from, to - from);
    from = to + 1;
  }
}

TEST(CompareJson, HoldsEveryNumber) {
  const json out = json::parse(compare_json(two_engines()));
  EXPECT_EQ(out["schema"], "eyebrow.compare/1");
  EXPECT_EQ(out["verdict"], "contact");
  EXPECT_EQ(out["engines"][1]["verdict"], "contact");
  EXPECT_EQ(out["engines"][1]["file"], "b.toml");
  const json& travel = out["gaps"][0];
  EXPECT_EQ(travel["name"], "intake.travel");
  EXPECT_NEAR(travel["engines"][1]["difference"].get<double>(), -120 * kMil, 1e-9);
  EXPECT_EQ(travel["engines"][0]["holds"], true);
  EXPECT_EQ(out["inputs"][0]["stated"][1]["value"], 2.02);
  EXPECT_EQ(out["inputs"][0]["also"][0], "valve.rear.x");
  EXPECT_EQ(out["inputs"][1]["other_keys"], "unknown");
  EXPECT_TRUE(out["inputs"][2]["stated"][0].is_null());
  EXPECT_EQ(out["lifts"][0]["engine"], 2);
  EXPECT_NEAR(out["landings"][1]["offset"].get<double>(), 50 * kMil, 1e-9);
  EXPECT_NEAR(out["landings"][1]["tilt_apart"].get<double>(), 2.5, 1e-9);
  EXPECT_EQ(out["landings"][1]["rim_to_wall"].size(), 12u);
  EXPECT_TRUE(out["landings"][2]["pocket"].is_null());
}

/// Parabolas around each least.
CheckResult with_parabolas(CheckResult result, double wide) {
  for (ValveResult& valve : result.valves) {
    Series& series = valve.series = {};
    for (int degrees = -90; degrees <= 90; ++degrees) {
      const double crank = degrees * kDegree;
      const auto curve = [&](GapKind kind) {
        const Minimum& least = valve.minimum[kind];
        return least.gap.measured() ? least.gap.value + wide * (crank - least.crank) * (crank - least.crank) : NAN;
      };
      series.crank.push_back(crank);
      series.lift.push_back(1);
      series.piston_depth.push_back(1);
      series.travel.push_back(curve(GapKind::travel));
      series.face.push_back(curve(GapKind::face));
      series.closest.push_back(curve(GapKind::closest));
      series.radial.push_back(std::abs(degrees) < 20 ? curve(GapKind::radial) : NAN);
    }
  }
  return result;
}

TEST(PlotCompare, EveryEngineHasItsLineAndItsLeast) {
  const std::vector<CheckResult> checks = {with_parabolas(sample_result(), 20), with_parabolas(sample_contact(), 30)};
  const plot::CompareDrawn drawn = draw_compare(checks, {}, PlotFile::svg, kInches);
  expect_tidy(drawn.page);
  ASSERT_EQ(drawn.panels.size(), 8u);
  EXPECT_THAT(words_of(drawn.page), HasSubstr("1: 0.108,  2: -0.012 CONTACT"));
  EXPECT_THAT(words_of(drawn.page), HasSubstr("1: none,  2: none"));
  EXPECT_THAT(words_of(drawn.page), HasSubstr("asked 0.080 in"));
  EXPECT_THAT(words_of(drawn.page), HasSubstr("turned by hand"));
  int seen = 0;
  for (const auto& mark : drawn.page.marked()) {
    if (mark.name != "1 intake travel" && mark.name != "2 intake travel") continue;
    ++seen;
    const plot::ComparePanel& panel = drawn.panels.front();
    EXPECT_NEAR(panel.crank.value(mark.at.x), 9.4, 1e-9);
    EXPECT_NEAR(panel.gap.value(mark.at.y), mark.name[0] == '1' ? 0.108 : -0.012, 1e-9);
  }
  EXPECT_EQ(seen, 2);
}

TEST(PlotCompare, FourEnginesThatAskForDifferentGapsAreTidyToo) {
  std::vector<CheckResult> checks(4, with_parabolas(sample_result(), 20));
  for (std::size_t e = 0; e < checks.size(); ++e) {
    checks[e].engine = std::string(100, 'a' + static_cast<char>(e));
    for (AskedRow& row : checks[e].asked) row.required += static_cast<double>(e) * 2 * kMil;
  }
  expect_tidy(draw_compare(checks, {}, PlotFile::svg, kInches).page);
  expect_tidy(draw_compare(checks, {}, PlotFile::svg, kMm).page);
}

TEST(PlotCompare, ValvesAreChosenByNameAndOnlySomeEnginesHaveThem) {
  std::vector<CheckResult> checks(2, with_parabolas(sample_result(), 20));
  checks[1].valves[0].name = "inlet";
  EXPECT_EQ(draw_compare(checks, {}, PlotFile::svg, kInches).panels.size(), 12u);
  const auto chosen = draw_compare(checks, {"inlet"}, PlotFile::svg, kInches);
  EXPECT_EQ(chosen.panels.size(), 4u);
  EXPECT_THAT(words_of(chosen.page), Not(HasSubstr("exhaust")));
  EXPECT_THROW(draw_compare(checks, {"outlet"}, PlotFile::svg, kInches), Error);
  checks.resize(plot::kLineStyles.size() + 1, checks[0]);
  EXPECT_THROW(draw_compare(checks, {}, PlotFile::svg, kInches), Error);
}

}  // namespace
}  // namespace eyebrow
