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
Engines side by side
  1 sample engine (invented) (a.toml): holds; least margin 0.001 in: intake, closest
  2 other engine (invented) (b.toml): CONTACT; least margin -0.092 in: intake, travel

Least gaps over the cycle, inches; found rounded down, asked rounded up, differences to nearest. !
= short of what is asked, x = parts touch, . = no difference, - = no such row.

gap                asked    in 1     in 2    2 - 1
intake.travel      0.080   0.108   -0.012x  -0.120
intake.face        0.080   0.102   -0.012x  -0.114
intake.radial      0.050   0.053    0.053        .
intake.closest     0.050   0.051   -0.012x  -0.063
exhaust.travel     0.120   0.135    0.135        .
exhaust.face       0.120   0.130    0.130        .
exhaust.radial     0.050    none     none
exhaust.closest    0.050   0.072    0.072        .
intake/exhaust     0.030   0.095    0.095        .
intake.bore        0.030   0.061    0.061        .
exhaust.bore       0.030   0.085    0.085        .
piston.head        0.040   0.041    0.041        .
verdict                    holds  CONTACT

Inputs that differ; what is not listed is the same in all. - = not stated.
input                                 in 1                in 2
valve.intake.head_diameter            1.94 in             2.02 in
    and with it valve.rear.x
lobe.intake: other keys; see the lifts below
    in 1: durations
    in 2: table "lift.csv"
running.rock                          -                   2 keys

Lifts at the valve, cams as set, against engine 1 (+ = more lift); near TDC = within 30 degrees of
it.
  2 intake: near TDC the same; at most by -0.012 in at 40.0 ATDC

Where the valves land on the pockets, inches. Piston at TDC, gasket and deck of the valve's own
engine; each valve pushed down its axis until its rim's centre is level with the crown flat. Off by
= from the pocket's axis to the valve's, and toward where (x, y as in the file); tilt = degrees
between the axes; more = the pocket's radius less the rim's; own = on its own piston (on that of 1
only where its pocket is bored otherwise). As the piston goes down from there a leaning valve walks
across its pocket: the radial gap above counts that.

Valve intake
  on      pocket            off by  toward               x       y    tilt     more
  1 own   intake             0.000  -                    .       .       0    0.060
  2 on 1  intake             0.050  4:30 o'clock    +0.030  -0.040     2.5    0.060
  o'clock      12      1      2      3      4      5      6      7      8      9     10     11   rim to wall
  1 own     0.060  0.060  0.060  0.060  0.060  0.060  0.060  0.060  0.060  0.060  0.060  0.060
  2 on 1    0.060  0.060  0.060  0.060  0.010  0.060  0.060  0.060  0.060  0.060  0.060  0.060

Valve third
  on      pocket            off by  toward               x       y    tilt     more
  2 on 1  no pocket there takes it
Rim to wall: square to the pocket's axis, the wall taken as whole also where the crown's edge,
another pocket or the slope of the floor leaves none.
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
