// A tolerance stack as text, CSV, JSON and pictures. Invented.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "eyebrow/stack_report.hpp"
#include "report/plot_checks.hpp"

namespace eyebrow {
namespace {

using ::testing::HasSubstr;

StackResult sample() {
  StackResult out;
  out.engine = "sample (invented)";
  out.units = LengthUnit::mm;
  out.tolerances = {{"gasket.thickness", Tolerance::Shape::uniform, 0.05, 0},
                    {"valve.intake.rim_height", Tolerance::Shape::normal, 0, 0.02, "head"},
                    {"valve.exhaust.rim_height", Tolerance::Shape::normal, 0, 0.02, "head"}};
  out.numbers = {{"mm", 1.0, 1}, {"in", 0.2, 25.4}, {"in", 0.2, 25.4}};
  out.drivers = {{"gasket.thickness", {0}}, {"head", {1, 2}}};
  out.samples = 1000;
  out.seed = 3;
  out.engines = 57;
  out.checked = 36;
  out.endless = true;
  StackGap travel;
  travel.gap = {"travel", "intake", 2.0, false};
  travel.nominal = 2.1;
  travel.worst = {1.9304, {-0.05, -0.06, -0.06}, false, false, 1.929};
  travel.rss = 2.0123;
  travel.p01 = 1.9501;
  travel.p1 = 1.9999;
  travel.p50 = 2.0996;
  travel.p99 = 2.2;
  travel.mean = 2.1;
  travel.deviation = 0.04;
  travel.below = 12;
  travel.share = 0.012;
  travel.low = 0.0063;
  travel.high = 0.0209;
  travel.edges = {1.9, 2.1, 2.3};
  travel.counts = {510, 490};
  travel.residual = 0.00412;
  travel.residual_rms = 0.001;
  travel.parts = {{0, 0.71, 0.05, -0.05}, {1, 0.29, 0.03, -0.031}};
  StackGap face = travel;
  face.gap.what = "face";
  StackGap pair;
  pair.gap = {"valve to valve", "intake / exhaust", 1.0, false};
  pair.nominal = 2.5;
  pair.worst = {2.5, {0, 0, 0}, true, false, 2.5};
  pair.rss = pair.p01 = pair.p1 = pair.p50 = pair.p99 = pair.mean = 2.5;
  pair.deviation = 0;
  pair.share = pair.low = 0;
  pair.high = 0.0037;
  pair.residual = 0;
  StackGap none;
  none.gap = {"radial", "intake", 1.0, false};
  out.gaps = {travel, face, none, pair};
  return out;
}

TEST(StackText, Golden) {
  EXPECT_EQ(stack_text(sample(), {LengthUnit::mm, -1}), R"(sample (invented)
Tolerance stack of 3 inputs that move as 2: 1000 engines drawn (seed 3).
Least gaps over the cycle in mm, rounded down. ! = short of what is asked, x = parts touch.

                asked nominal   worst     RSS  1/1000   1/100  middle  below asked
intake.travel    2.00    2.10    1.93!   2.01    1.95!   1.99!   2.09  1.2 % (0.63-2.1)
intake.face      2.00    2.10    1.93!   2.01    1.95!   1.99!   2.09  1.2 % (0.63-2.1)
intake/exhaust   1.00    2.50    2.50    2.50    2.50    2.50    2.50  not moved

worst: the least anywhere within the tolerances, all inputs together. RSS: nominal less the root of
the sum of squares of what each input alone takes at its worse end; right where effects add up and
errors are normal. 1/1000: so many of the engines drawn have less. below asked: share of the engines
drawn, and its 95 % interval (Clopper and Pearson, with twice the surface's greatest error).
A tolerance that is stated by its deviation has no end: the worst case goes to 3 deviations of it,
and some of the engines drawn lie beyond.

What drives each: the share of its variance that goes when this input stands still, and what the
input alone does to the gap at its worse end.
  intake.travel, intake.face
        71 %    -0.050   gasket.thickness
        29 %    -0.031   head

Where the worst case is, by how far each number is moved:
  intake.travel, intake.face
      gasket.thickness -0.05 mm, valve.intake.rim_height -0.002362 in, valve.exhaust.rim_height
      -0.002362 in

57 engines were computed exactly. Samples are read from a surface through them; at 36 engines drawn
at random within the tolerances it was off by 4.2 um at most. Worst cases are of engines computed
exactly; by twice what the surface was off, none is lower by more than 1.4 um.
Off by more than a map's cells: intake.travel (4.2 um), intake.face (4.2 um).

Verdict: SHORT in the worst case.
  Not there: intake.travel, intake.face.
  A stack sees no more than the numbers that have a tolerance. It does not see a number that was
  misread, a bent rod or valve, a wrong part, or what running adds beyond [running].
Caution: an aid. The makers' limits rule; confirm on the assembled engine, turned by hand.
)");
}

TEST(StackText, SaysWhatCannotBeAndWhatHolds) {
  StackResult result = sample();
  for (StackGap& gap : result.gaps) gap.worst.holds = true;
  result.refused = 4;
  result.none = 100;
  result.trouble = "too thick";
  result.changed = {"gasket.thickness=1 mm"};
  const std::string text = stack_text(result, {LengthUnit::inch, -1}, {0});
  EXPECT_THAT(text, HasSubstr("Verdict: holds, in the worst case"));
  EXPECT_THAT(text, HasSubstr("With gasket.thickness=1 mm"));
  EXPECT_THAT(text, HasSubstr("4 cannot be: too thick. Of the engines drawn 100 cannot be"));
  EXPECT_THAT(text, ::testing::Not(HasSubstr("intake/exhaust")));
  result.gaps[0].worst.touches = true;
  EXPECT_THAT(stack_text(result, {LengthUnit::mm, -1}), HasSubstr("CONTACT in the worst case"));
  EXPECT_FALSE(result.holds());
}

TEST(StackCsv, HasARowAGap) {
  const std::string text = stack_csv(sample(), {LengthUnit::mm, 3});
  EXPECT_THAT(text, HasSubstr("gap,asked mm,nominal mm,worst case mm,"));
  EXPECT_THAT(text, HasSubstr("\nintake.travel,2.000,2.100,1.930,2.012,1.950,1.999,2.099,2.200,0.012,0.0063,0.0209,"
                              "gasket.thickness,0.71\n"));
  EXPECT_THAT(text, HasSubstr("\nintake.radial,1.000,,,,,,,,,,,,\n"));
}

TEST(StackJson, IsInMmAndInTheUnitsGiven) {
  const auto read = nlohmann::json::parse(stack_json(sample()));
  EXPECT_EQ(read["schema"], "eyebrow.stack/1");
  EXPECT_EQ(read["inputs"][1]["unit"], "in");
  EXPECT_NEAR(read["inputs"][1]["deviation"].get<double>(), 0.02 / 25.4, 1e-12);
  EXPECT_NEAR(read["gaps"][0]["worst"]["inputs_moved_by"][1].get<double>(), -0.06 / 25.4, 1e-12);
  EXPECT_NEAR(read["gaps"][0]["worst"]["value"].get<double>(), 1.9304, 1e-12);
  EXPECT_TRUE(read["gaps"][2]["nominal"].is_null());
  EXPECT_EQ(read["gaps"][0]["drivers"][1]["driver"], "head");
  EXPECT_EQ(read["holds_at_worst"], false);
}

TEST(StackPlots, AreOfTheTightestGap) {
  const StackResult result = sample();
  EXPECT_EQ(tightest_gap(result), 0u);
  const Histogram histogram = stack_histogram(result, 0);
  EXPECT_EQ(histogram.asked, 2.0);
  EXPECT_EQ(histogram.counts.size(), 2u);
  const Bars bars = stack_bars(result, 0);
  ASSERT_EQ(bars.rows.size(), 2u);
  EXPECT_EQ(bars.rows[1].label, "head, 29 %");
  EXPECT_EQ(bars.rows[1].value, -0.031);
  EXPECT_THAT(plot_histogram(histogram, PlotFile::svg, {}), HasSubstr("worst case"));
  EXPECT_THAT(plot_bars(bars, PlotFile::svg, {}), HasSubstr("gasket.thickness"));
}

}  // namespace
}  // namespace eyebrow
