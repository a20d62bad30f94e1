// Histograms and ranked bars.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numeric>

#include "eyebrow/plot.hpp"
#include "report/plot_checks.hpp"
#include "report/plot_counts.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using plot::Bins;
using plot::bins_of;
using plot::CountsDrawn;
using plot::draw_bars;
using plot::draw_histogram;
using plot::percent_text;
using plot::share_below;
using testing::expect_tidy;
using testing::kInches;
using testing::kMm;
using testing::wrote;

std::vector<double> even(int count, double from, double to) {
  std::vector<double> out;
  for (int i = 0; i < count; ++i) out.push_back(from + (to - from) * i / (count - 1));
  return out;
}

Histogram sample() {
  Histogram out;
  out.title = "sample (invented)";
  out.quantity = "least travel, intake";
  out.samples = even(1001, 1, 3);
  out.asked = 1.5;
  out.lines = {{0.9, "worst case"}, {2, "nominal"}};
  return out;
}

TEST(PlotBins, CountEveryNumberOnce) {
  for (const int count : {1, 2, 10, 1000}) {
    std::vector<double> values = even(count == 1 ? 2 : count, -1, 2.5);
    values.push_back(NAN);
    values.push_back(1e300);
    const Bins bins = bins_of(values);
    EXPECT_EQ(std::accumulate(bins.counts.begin(), bins.counts.end(), 0.0), values.size() - 2);
    ASSERT_EQ(bins.edges.size(), bins.counts.size() + 1);
    EXPECT_LE(bins.edges.front(), -1);
    EXPECT_GT(bins.edges.back(), 2.5);
  }
  EXPECT_TRUE(bins_of({}).counts.empty());
  EXPECT_TRUE(bins_of({NAN}).counts.empty());
  const Bins same = bins_of({2, 2, 2});
  EXPECT_EQ(std::accumulate(same.counts.begin(), same.counts.end(), 0.0), 3);
}

TEST(PlotBins, ShareBelow) {
  EXPECT_DOUBLE_EQ(share_below(std::vector<double>{1, 2, 3, 4}, 3), 0.5) << "3 itself is not below";
  EXPECT_DOUBLE_EQ(share_below(std::vector<double>{1, NAN, 3, 4}, 3), 0.25) << "of all";
  EXPECT_TRUE(std::isnan(share_below(std::vector<double>{}, 3)));
  const Bins bins{{0, 1, 3}, {10, 30}};
  EXPECT_DOUBLE_EQ(share_below(bins, 1), 0.25);
  EXPECT_DOUBLE_EQ(share_below(bins, 2), 0.625);
  EXPECT_DOUBLE_EQ(share_below(bins, -1), 0);
  EXPECT_DOUBLE_EQ(share_below(bins, 9), 1);
}

TEST(PlotBins, PercentsAreNeverLessThanTheyAre) {
  EXPECT_EQ(percent_text(0), "0 %");
  EXPECT_EQ(percent_text(1e-9), "0.001 %");
  EXPECT_EQ(percent_text(0.0123), "1.23 %");
  EXPECT_EQ(percent_text(0.01231), "1.24 %");
  EXPECT_EQ(percent_text(0.25), "25.0 %");
  EXPECT_EQ(percent_text(1), "100.0 %");
}

TEST(PlotHistogram, TellsShareLinesAndUnit) {
  const CountsDrawn plot = draw_histogram(sample(), PlotFile::svg, kMm);
  // 250 of the 1001 lie below 1.5: 24.975 %.
  EXPECT_TRUE(wrote(plot.page, "1001 samples. 25.0 % below the asked 1.50 mm."));
  EXPECT_TRUE(wrote(plot.page, "worst case 0.90 mm"));
  EXPECT_TRUE(wrote(plot.page, "nominal 2.00 mm"));
  EXPECT_TRUE(wrote(plot.page, "asked 1.50 mm"));
  EXPECT_TRUE(wrote(plot.page, "least travel, intake (mm)"));
  EXPECT_TRUE(wrote(plot.page, "confirm on the assembled engine"));
  EXPECT_LT(plot.x.from, 0.9);
  EXPECT_GT(plot.x.to, 3);
  expect_tidy(plot.page);
  const CountsDrawn inches = draw_histogram(sample(), PlotFile::svg, kInches);
  EXPECT_TRUE(wrote(inches.page, "worst case 0.035 in")) << "rounded down";
  EXPECT_TRUE(wrote(inches.page, "asked 0.060 in")) << "rounded up";
  expect_tidy(inches.page);
  Histogram degrees = sample();
  degrees.unit = "deg";
  EXPECT_TRUE(wrote(draw_histogram(degrees, PlotFile::svg, kInches).page, "nominal 2 deg"));
}

TEST(PlotHistogram, TakesCountsToo) {
  Histogram counts = sample();
  counts.samples.clear();
  counts.edges = {1, 1.4, 2};
  counts.counts = {10, 30};
  const CountsDrawn plot = draw_histogram(counts, PlotFile::svg, kMm);
  EXPECT_TRUE(wrote(plot.page, "About 37.5 % below the asked 1.50 mm."));  // 10 and a sixth of 30, of 40
  expect_tidy(plot.page);
  counts.counts.push_back(1);
  EXPECT_THROW(draw_histogram(counts, PlotFile::svg, kMm), Error);
  counts.counts = {1, -1};
  EXPECT_THROW(draw_histogram(counts, PlotFile::svg, kMm), Error);
  counts.counts = {1, 1};
  counts.edges = {1, 1, 2};
  EXPECT_THROW(draw_histogram(counts, PlotFile::svg, kMm), Error);
}

TEST(PlotHistogram, StrangeSamplesDoNoHarm) {
  const std::vector<std::vector<double>> all = {
      {}, {NAN, NAN}, {2}, {2, 2, 2, 2}, {-5e8, 5e8}, {1e300, 1, 2}, {-INFINITY, 0}, {-3, -2, -2.5}};
  for (const auto& samples : all) {
    Histogram histogram = sample();
    histogram.samples = samples;
    histogram.lines.push_back({NAN, "none"});
    histogram.lines.push_back({1e300, "far"});
    for (int i = 0; i < 8; ++i) histogram.lines.push_back({2 + 0.001 * i, "one of many lines in one place"});
    for (const Format& format : {kMm, kInches}) expect_tidy(draw_histogram(histogram, PlotFile::svg, format).page);
    EXPECT_GT(plot_histogram(histogram, PlotFile::pdf, kMm).size(), 1000u);
  }
}

TEST(PlotBars, KeepTheirOrderWithTheirSign) {
  Bars bars;
  bars.title = "sample (invented)";
  bars.quantity = "change of least travel";
  bars.rows = {{"first", 0.05}, {"second", -0.21}, {"third", 0.1}, {"none", NAN}};
  const CountsDrawn plot = draw_bars(bars, PlotFile::svg, kMm);
  const auto top_of = [&](const std::string& text) {
    for (const auto& each : plot.page.written())
      if (each.text == text) return each.box.top;
    ADD_FAILURE() << text;
    return 0.0;
  };
  EXPECT_LT(top_of("first"), top_of("second"));
  EXPECT_LT(top_of("second"), top_of("third"));
  EXPECT_TRUE(wrote(plot.page, "-0.21 mm"));
  EXPECT_TRUE(wrote(plot.page, "+0.10 mm"));
  EXPECT_TRUE(wrote(plot.page, "1 without a number are not drawn."));
  expect_tidy(plot.page);
}

// No page is drawn that its rows do not fill.
TEST(PlotBars, PageIsAsHighAsItsRows) {
  double before = 0;
  for (const int rows : {4, 8, 12, 30, 60}) {
    Bars bars;
    bars.title = "sample (invented)";
    for (int i = 0; i < rows; ++i) bars.rows.push_back({"row " + std::to_string(i), -0.01 * (i + 1)});
    const CountsDrawn plot = draw_bars(bars, PlotFile::svg, kMm);
    const double last = plot.y.place(rows);
    EXPECT_LT(plot.frame.bottom - last, 12) << rows;
    EXPECT_GE(plot.frame.bottom, last) << rows;
    EXPECT_GT(plot.frame.bottom, before);
    before = plot.frame.bottom;
    expect_tidy(plot.page);
  }
}

TEST(PlotBars, StrangeRowsDoNoHarm) {
  std::vector<std::vector<Bars::Row>> all = {
      {}, {{"zero", 0}}, {{"huge", 1e300}, {"", -1}}, {{std::string(900, 'w'), 1}}};
  all.emplace_back();
  for (int i = 0; i < 200; ++i) all.back().push_back({"row " + std::to_string(i), (i % 2 == 0 ? 1 : -1) * 0.01 * i});
  for (const auto& rows : all)
    for (const Format& format : {kMm, kInches, Format{LengthUnit::mm, 6}}) {
      Bars bars;
      bars.rows = rows;
      expect_tidy(draw_bars(bars, PlotFile::svg, format).page);
      EXPECT_GT(plot_bars(bars, PlotFile::pdf, format).size(), 1000u);
    }
  Bars many;
  many.rows = all.back();
  EXPECT_TRUE(wrote(draw_bars(many, PlotFile::svg, kMm).page, "140 more are not drawn."));
}

}  // namespace
}  // namespace eyebrow
