// Gaps against crank angle.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "eyebrow/plot.hpp"
#include "report/plot_checks.hpp"
#include "report/plot_curve_data.hpp"
#include "report/plot_curves.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using plot::CurvesDrawn;
using plot::draw_curves;
using ::testing::AllOf;
using testing::expect_tidy;
using ::testing::HasSubstr;
using testing::kInches;
using testing::kMm;
using ::testing::Not;
using testing::sample_result;
using testing::words_of;
using testing::wrote;

CurvesDrawn drawn(const CheckResult& result, const std::string& valve = "", const Format& format = kInches) {
  return draw_curves(result, valve, PlotFile::svg, format);
}

/// Travel, face and closest as parabolas around their least, radial on a part only.
CheckResult with_curves() {
  CheckResult result = sample_result();
  for (ValveResult& valve : result.valves) {
    Series& series = valve.series = {};
    for (int degrees = -360; degrees <= 360; ++degrees) {
      const double crank = degrees * kDegree;
      const auto curve = [&](GapKind kind) {
        const Minimum& least = valve.minimum[kind];
        return least.gap.measured() ? least.gap.value + 20 * (crank - least.crank) * (crank - least.crank) : NAN;
      };
      series.crank.push_back(crank);
      series.lift.push_back(std::fmax(0, 4 + 8 * std::sin(crank)));
      series.piston_depth.push_back(60 * (1 - std::cos(crank)));
      series.travel.push_back(curve(GapKind::travel));
      series.face.push_back(curve(GapKind::face));
      series.closest.push_back(curve(GapKind::closest));
      series.radial.push_back(std::abs(degrees) < 20 ? curve(GapKind::radial) : NAN);
    }
  }
  return result;
}

TEST(PlotCurves, TellsTheNumbersOfTheReport) {
  const CurvesDrawn plot = drawn(with_curves());
  EXPECT_THAT(
      words_of(plot.page),
      AllOf(HasSubstr("sample engine (invented)"), HasSubstr("Verdict: holds. Least margin 0.001 in: intake, closest."),
            HasSubstr("parts cold; valve train rigid; zero lash, as on the bench; cam unmoved"),
            HasSubstr("confirm on the assembled engine"), HasSubstr("Valve intake\n"), HasSubstr("Valve exhaust\n"),
            HasSubstr("\n0.108 in at 9.4 ATDC\nasked 0.080 in\n"),
            HasSubstr("\n0.135 in at 8.0 BTDC\nasked 0.120 in\n"), HasSubstr("none: not in reach"),
            HasSubstr("\ntravel 0.108 in at 9.4 ATDC\n"), HasSubstr("\nclosest 0.072 in at 7.0 BTDC\n"),
            HasSubstr("asked 0.080 in: travel, face")));
  EXPECT_THAT(plot_curves(with_curves(), "", PlotFile::svg, kMm), HasSubstr("2.74 mm at 9.4 ATDC"));
  expect_tidy(plot.page);
}

TEST(PlotCurves, MarksMapBackToCrankAndGap) {
  const CheckResult result = with_curves();
  const CurvesDrawn plot = drawn(result, "", kMm);
  ASSERT_EQ(plot.panels.size(), 2u);
  int seen = 0;
  for (std::size_t v = 0; v < 2; ++v)
    for (const GapKind kind : kGapKinds)
      for (const auto& mark : plot.page.marked()) {
        if (mark.name != result.valves[v].name + ' ' + to_string(kind)) continue;
        const Minimum& least = result.valves[v].minimum.at(kind);
        EXPECT_NEAR(plot.panels[v].crank.value(mark.at.x), least.crank / kDegree, 1e-9);
        EXPECT_NEAR(plot.panels[v].gap.value(mark.at.y), least.gap.value, 1e-9);
        EXPECT_TRUE(plot.panels[v].frame.holds(mark.at));
        ++seen;
      }
  EXPECT_EQ(seen, 7) << "the exhaust's radial gap is not in reach";
}

// The file itself, not what the page says of it: the place of a marker's outline in the SVG.
TEST(PlotCurves, TheMarkerStandsInTheFileWhereThePageSays) {
  const CurvesDrawn again = drawn(with_curves(), "intake", kMm);
  const std::string svg = plot_curves(with_curves(), "intake", PlotFile::svg, kMm);
  for (const auto& mark : again.page.marked()) {
    if (mark.name != "intake closest") continue;
    // A diamond begins at its upper corner; the file has six decimals without trailing zeros.
    bool found = false;
    for (std::size_t at = svg.find("d=\"M "); at != std::string::npos; at = svg.find("d=\"M ", at + 1)) {
      const char* numbers = svg.c_str() + at + 5;
      char* end = nullptr;
      const double x = std::strtod(numbers, &end), y = std::strtod(end, nullptr);
      found = found || (std::fabs(x - mark.at.x) < 0.01 && std::fabs(y - (mark.at.y - 1.25 * 5)) < 0.01);
    }
    EXPECT_TRUE(found);
    return;
  }
  FAIL() << "no mark";
}

TEST(PlotCurves, OneValveOrAll) {
  EXPECT_EQ(drawn(with_curves(), "exhaust").panels.size(), 1u);
  EXPECT_FALSE(wrote(drawn(with_curves(), "exhaust").page, "Valve intake"));
  EXPECT_THROW(drawn(with_curves(), "inlet"), Error);
}

TEST(PlotCurves, ShowsWhereSomethingIsNear) {
  const CheckResult result = with_curves();
  const auto panels = plot::curve_data(result, "");
  const plot::Range gaps = plot::gap_range(panels), cranks = plot::crank_range(panels, gaps);
  EXPECT_LT(gaps.from, 0);
  EXPECT_GT(gaps.to, 2 * 120 * kInch / 1000) << "twice the greatest asked gap";
  EXPECT_LE(cranks.from, -20);
  EXPECT_GE(cranks.to, 20);
  EXPECT_GE(cranks.from, -90);
  EXPECT_LE(cranks.to, 90);
  EXPECT_EQ(std::fmod(cranks.from, 5), 0);
}

TEST(PlotCurves, TellsInWordsWhatLiesOutside) {
  CheckResult result = with_curves();
  result.valves[0].minimum[GapKind::closest].crank = 355 * kDegree;
  const CurvesDrawn plot = drawn(result);
  EXPECT_TRUE(wrote(plot.page, "Not in the picture: intake, closest 0.051 in at 355.0 ATDC."));
  EXPECT_LE(plot.panels[0].crank.to, 180);
  expect_tidy(plot.page);
}

TEST(PlotCurves, MarksWhatTheCardLeavesOpen) {
  CheckResult result = with_curves();
  const double least = 85 * kInch / 1000, greatest = 130 * kInch / 1000;
  result.valves[0].card[GapKind::travel] = {least, greatest};
  AskedRow& row = testing::asked_row(result, "travel", "intake");
  row.middle = row.found;
  row.found = least;
  const CurvesDrawn plot = drawn(result, "intake", kMm);
  EXPECT_TRUE(wrote(plot.page, "middle of the lobes that have the same cam card"));
  EXPECT_TRUE(wrote(plot.page, "travel 2.15 mm at 9.4 ATDC")) << "85 thou, rounded down: the least is judged";
  bool judged = false;
  for (const auto& mark : plot.page.marked())
    if (mark.name == "intake travel judged") {
      judged = true;
      EXPECT_NEAR(plot.panels[0].gap.value(mark.at.y), least, 1e-9);
    }
  EXPECT_TRUE(judged);
  expect_tidy(plot.page);
  EXPECT_FALSE(wrote(drawn(with_curves()).page, "cam card"));
}

TEST(PlotCurves, SaysWhenTheMarksAreOfOtherCamPositions) {
  CheckResult result = with_curves();
  result.conditions.stops["cam"] = {-4 * kDegree, 4 * kDegree};
  EXPECT_TRUE(wrote(drawn(result).page, "all positions between its stops"));
}

TEST(PlotCurves, ContactIsBelowTheZeroLine) {
  CheckResult result = with_curves();
  for (const GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest}) testing::set_found(result, kind, -1);
  result.verdict = Verdict::contact;
  const CurvesDrawn plot = drawn(result, "", kMm);
  EXPECT_TRUE(wrote(plot.page, "CONTACT"));
  EXPECT_TRUE(wrote(plot.page, "overlap"));
  EXPECT_LT(plot.panels[0].gap.from, -1);
  for (const auto& mark : plot.page.marked())
    if (mark.name == "intake travel") {
      EXPECT_GT(mark.at.y, plot.panels[0].gap.place(0));
    }
  expect_tidy(plot.page);
}

TEST(PlotCurves, RunningIsTold) {
  CheckResult result = with_curves();
  result.allowances.emplace_back();
  for (ValveResult& valve : result.valves) valve.running[GapKind::travel] = {2.0, 0, 4, {}};
  AskedRow row = testing::asked_row(result, "travel", "intake");
  row.running = true;
  row.required = 1.5;
  result.asked.push_back(row);
  const CurvesDrawn plot = drawn(result, "", kMm);
  EXPECT_TRUE(wrote(plot.page, "running 2.00, asked 1.50 mm"));
  EXPECT_TRUE(wrote(plot.page, "running 2.00, none asked"));
  expect_tidy(plot.page);
}

TEST(PlotCurves, StrangeSeriesDoNoHarm) {
  const auto each_series = [](const std::function<void(std::vector<double>&)>& change) {
    CheckResult result = with_curves();
    for (ValveResult& valve : result.valves)
      for (auto* column : {&valve.series.lift, &valve.series.piston_depth, &valve.series.travel, &valve.series.face,
                           &valve.series.radial, &valve.series.closest})
        change(*column);
    return result;
  };
  std::vector<CheckResult> all = {each_series([](auto& column) { column.assign(column.size(), NAN); }),
                                  each_series([](auto& column) { column.assign(column.size(), 1.0); }),
                                  each_series([](auto& column) { column.assign(column.size(), -1e300); }),
                                  each_series([](auto& column) { column.assign(column.size(), INFINITY); }),
                                  each_series([](auto& column) {
                                    for (std::size_t i = 0; i < column.size(); i += 2)
                                      column[i] = i % 4 == 0 ? NAN : 1e8;
                                  }),
                                  each_series([](auto& column) { column.clear(); }),
                                  each_series([](auto& column) { column.resize(1); })};
  CheckResult one = with_curves();
  for (ValveResult& valve : one.valves) {
    valve.series = {};
    valve.series.crank = {0};
    valve.series.travel = {2};
  }
  CheckResult empty = with_curves();
  for (ValveResult& valve : empty.valves) {
    valve.series = {};
    valve.minimum.clear();
    valve.name = "";
  }
  empty.asked.clear();
  CheckResult huge = with_curves();
  for (ValveResult& valve : huge.valves)
    for (auto& [kind, least] : valve.minimum) least.gap.value = kind == GapKind::travel ? 1e15 : -1e8;
  CheckResult none = with_curves();
  none.valves.clear();
  none.engine = std::string(5000, 'x');
  for (const CheckResult& each : {one, empty, huge, none}) all.push_back(each);
  for (const CheckResult& result : all)
    for (const Format& format : {kInches, kMm}) {
      const CurvesDrawn plot = drawn(result, "", format);
      expect_tidy(plot.page);
      for (const PlotFile kind : {PlotFile::svg, PlotFile::png, PlotFile::pdf})
        if (format.units == LengthUnit::mm) {
          EXPECT_GT(plot_curves(result, "", kind, format).size(), 1000u);
        }
      EXPECT_EQ(plot_curves(result, "", PlotFile::svg, format).find("nan"), std::string::npos);
    }
}

TEST(PlotCurves, LabelsKeepClearOfEachOtherWhateverTheNumbers) {
  std::mt19937 random(7);
  const auto any = [&](double from, double to) { return std::uniform_real_distribution<double>(from, to)(random); };
  for (int round = 0; round < 60; ++round) {
    CheckResult result = with_curves();
    for (ValveResult& valve : result.valves)
      for (auto& [kind, least] : valve.minimum) {
        least.crank = any(-15, 15) * kDegree;
        least.gap.value = any(round % 3 == 0 ? -2 : 0.3, 3);
        if (round % 2 == 0) valve.card[kind] = {least.gap.value - any(0, 0.8), least.gap.value + any(0, 0.8)};
      }
    for (AskedRow& row : result.asked) {
      row.required = any(0.5, 3);
      row.found = NAN;
    }
    const CurvesDrawn plot = drawn(result, "", round % 2 == 0 ? kMm : kInches);
    expect_tidy(plot.page);
    if (HasFailure()) FAIL() << "round " << round;
  }
}

}  // namespace
}  // namespace eyebrow
