// Maps of least gaps, made from closed formulas.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "eyebrow/plot.hpp"
#include "report/plot_checks.hpp"
#include "report/plot_map.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using plot::draw_map;
using plot::MapDrawn;
using plot::Place;
using plot::Polygon;
using testing::expect_tidy;
using testing::kInches;
using testing::kMm;
using testing::wrote;

/// Travel and closest of an intake, and piston to head: planes over gasket and advance.
double found(std::size_t gap, double gasket, double advance) {
  return gap == 0 ? 1.2 + gasket - 0.1 * advance : gap == 1 ? 0.8 + 0.5 * gasket + 0.05 * advance : gasket;
}

MapCell cell_at(const MapResult& map, double gasket, double advance) {
  MapCell cell;
  for (std::size_t g = 0; g < map.gaps.size(); ++g) {
    cell.found.push_back(found(g, gasket, advance));
    cell.holds.push_back(cell.found.back() >= map.gaps[g].required);
    if (!cell.holds.back()) cell.verdict = Verdict::short_;
  }
  return cell;
}

MapResult map_over(const std::vector<double>& gaskets, const std::vector<double>& advances) {
  MapResult map;
  map.engine = "closed formula (invented)";
  map.inputs = {{"gasket.thickness", "mm", gaskets, 1.04}};
  if (!advances.empty()) map.inputs.push_back({"cam.advance", "deg", advances, 0});
  map.gaps = {{"travel", "intake", 2, false}, {"closest", "intake", 1.3, false}, {"piston to head", "", 0.9, false}};
  for (const double advance : advances.empty() ? std::vector<double>{0} : advances)
    for (const double gasket : gaskets) map.cells.push_back(cell_at(map, gasket, advance));
  return map;
}

MapResult one_input() {
  return map_over({0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2}, {});
}

MapResult two_inputs() {
  return map_over({0.6, 0.8, 1.0, 1.2, 1.4}, {-4, -2, 0, 2, 4});
}

MapDrawn drawn(const MapResult& map, const std::vector<std::size_t>& gaps = {}, const Format& format = kMm) {
  return draw_map(map, gaps, PlotFile::svg, format);
}

double area(const std::vector<Polygon>& polygons) {
  double sum = 0;
  for (const Polygon& p : polygons)
    for (std::size_t i = 0; i < p.size(); ++i)
      sum += (p[i].x * p[(i + 1) % p.size()].y - p[(i + 1) % p.size()].x * p[i].y) / 2;
  return sum;
}

TEST(PlotMapLines, TellsTheAllowedStretchByComputedValues) {
  const MapDrawn plot = drawn(one_input());
  // Travel asks for 0.8, closest for 1.0, piston to head for 0.9.
  EXPECT_TRUE(wrote(plot.page, "Every asked gap holds from 1 to 1.2 mm (of 7 computed values)."));
  EXPECT_TRUE(wrote(plot.page, "Today 1.04 mm."));
  EXPECT_TRUE(wrote(plot.page, "gasket.thickness (mm)"));
  EXPECT_TRUE(wrote(plot.page, "asked 2.00 mm: travel"));
  EXPECT_TRUE(wrote(plot.page, "confirm on the assembled engine"));
  EXPECT_EQ(plot.panels.size(), 2u) << "the valve's, and piston to head";
  expect_tidy(plot.page);
}

TEST(PlotMapLines, MarksMapBackToTheirValues) {
  const MapResult map = one_input();
  const MapDrawn plot = drawn(map, {}, kInches);
  int seen = 0;
  for (std::size_t i = 0; i < map.inputs[0].values.size(); ++i)
    for (const auto& mark : plot.page.marked()) {
      if (mark.name != "Valve intake travel " + std::to_string(i)) continue;
      ++seen;
      EXPECT_NEAR(plot.panels[0].x.value(mark.at.x), map.inputs[0].values[i], 1e-9);
      EXPECT_NEAR(plot.panels[0].y.value(mark.at.y) * kInch, found(0, map.inputs[0].values[i], 0), 1e-9);
    }
  EXPECT_EQ(seen, 7);
}

TEST(PlotMapLines, ChosenGapsOnly) {
  const MapDrawn plot = drawn(one_input(), {2});
  EXPECT_EQ(plot.panels.size(), 1u);
  EXPECT_FALSE(wrote(plot.page, "travel"));
  EXPECT_TRUE(wrote(plot.page, "piston to head"));
}

TEST(PlotMapLines, OfTwoInputsOneMayHaveASingleValue) {
  for (const bool first : {true, false}) {
    const MapDrawn plot = drawn(first ? map_over({1.0}, {-4, 0, 4}) : map_over({0.8, 1.0, 1.2}, {2}));
    EXPECT_TRUE(wrote(plot.page, first ? "with gasket.thickness 1 mm" : "with cam.advance 2 deg"));
    expect_tidy(plot.page);
  }
}

TEST(PlotMapLines, NoneAllowedOneValueAndNoEngine) {
  MapResult none = one_input();
  for (MapGap& gap : none.gaps) gap.required = 9;
  for (MapCell& cell : none.cells) cell.verdict = Verdict::short_;
  EXPECT_TRUE(wrote(drawn(none).page, "Of the 7 computed values none has every asked gap."));
  MapResult gone = one_input();
  gone.cells[3] = {};
  gone.cells[3].trouble = "gasket.thickness is out of range";
  gone.cells[5].found[0] = NAN;
  const MapDrawn plot = drawn(gone);
  EXPECT_TRUE(wrote(plot.page, "no such engine"));
  EXPECT_TRUE(wrote(plot.page, "from 1 to 1.2 mm"));
  expect_tidy(plot.page);
  expect_tidy(drawn(map_over({1.0}, {})).page);
}

TEST(PlotMapBands, TodaysMarkStandsAtTodaysValues) {
  const MapDrawn plot = drawn(two_inputs(), {0});
  int seen = 0;
  for (const auto& mark : plot.page.marked()) {
    if (mark.name != "today") continue;
    ++seen;
    EXPECT_NEAR(plot.panels[0].x.value(mark.at.x), 1.04, 1e-9);
    EXPECT_NEAR(plot.panels[0].y.value(mark.at.y), 0, 1e-9);
  }
  EXPECT_EQ(seen, 1);
  EXPECT_TRUE(wrote(plot.page, "Least gap: intake, travel, over gasket.thickness and cam.advance."));
  EXPECT_TRUE(wrote(plot.page, "intake, travel (mm)"));
  EXPECT_TRUE(wrote(plot.page, "asked 2.00 mm"));
  EXPECT_TRUE(wrote(plot.page, "today: 1.04 mm, 0 deg"));
  EXPECT_TRUE(wrote(plot.page, "some asked gap, this one or another, is short"));
  expect_tidy(plot.page);
}

TEST(PlotMapBands, WhatIsNotAllowedIsWhereSomeGapIsShort) {
  // Two planes and a straight limit: allowed where gasket >= 0.9, gasket - 0.1 advance >= 0.8 and gasket + 0.1 advance
  // >= 1. Straight lines between computed places are exact for planes.
  const plot::NotAllowed no = plot::not_allowed(two_inputs());
  ASSERT_FALSE(no.border.empty());
  for (const auto& chain : no.border)
    for (const Place& p : chain) {
      const double least = std::min({p.x - 0.9, p.x - 0.1 * p.y - 0.8, p.x + 0.1 * p.y - 1});
      EXPECT_NEAR(least, 0, 1e-12) << p.x << ' ' << p.y;
    }
  EXPECT_TRUE(no.no_engine.empty());
  // Nothing allowed is hatched: the middle of each triangle or cell is short.
  for (const Polygon& each : no.region) {
    if (std::fabs(area({each})) < 1e-12) continue;
    Place middle{0, 0};
    for (const Place& p : each)
      middle = {middle.x + p.x / static_cast<double>(each.size()), middle.y + p.y / static_cast<double>(each.size())};
    EXPECT_LT(std::min({middle.x - 0.9, middle.x - 0.1 * middle.y - 0.8, middle.x + 0.1 * middle.y - 1}), 1e-12);
  }
}

TEST(PlotMapBands, TwoEqualGapsHaveOneWholeBorder) {
  MapResult map = two_inputs();
  map.gaps = {map.gaps[0], map.gaps[0]};
  for (MapCell& cell : map.cells) cell.found = {cell.found[0], cell.found[0] + 1e-13};
  double length = 0;
  for (const auto& chain : plot::not_allowed(map).border)
    for (std::size_t i = 1; i < chain.size(); ++i)
      length = length + std::hypot(chain[i].x - chain[i - 1].x, chain[i].y - chain[i - 1].y);
  // gasket = 0.8 + 0.1 advance, from (0.6, -2) to (1.2, 4); twice, as both gaps have it.
  EXPECT_NEAR(length, 2 * std::hypot(0.6, 6), 1e-9);
}

TEST(PlotMapBands, APlaceThatNoGapExplainsTakesItsWholeCells) {
  MapResult map = two_inputs();
  for (MapGap& gap : map.gaps) gap.required = -9;  // nothing is short
  for (MapCell& cell : map.cells) cell.verdict = Verdict::holds;
  EXPECT_NEAR(area(plot::not_allowed(map).region), 0, 1e-12);
  map.cells[2 + 2 * 5].verdict = Verdict::contact;
  EXPECT_NEAR(area(plot::not_allowed(map).region), 0.4 * 4, 1e-12) << "the four cells around it";
  map.cells[2 + 2 * 5] = {};
  map.cells[2 + 2 * 5].trouble = "no such crown";
  EXPECT_NEAR(area(plot::not_allowed(map).no_engine), 0.4 * 4, 1e-12);
  EXPECT_NEAR(area(plot::not_allowed(map).region), 0, 1e-12);
  const MapDrawn plot = drawn(map);
  EXPECT_TRUE(wrote(plot.page, "no such engine"));
  expect_tidy(plot.page);
}

TEST(PlotMapBands, WhatIsNotOnTheMapIsTold) {
  MapResult map = two_inputs();
  map.inputs[0].now = 2;
  EXPECT_TRUE(wrote(drawn(map).page, "Today's gasket.thickness, 2 mm, is not on the map."));
  map.inputs[0].now = NAN;
  EXPECT_TRUE(wrote(drawn(map).page, "today: not stated, 0 deg"));
}

TEST(PlotMap, TheTightestGapIsThatOfToday) {
  MapResult map = two_inputs();
  // At 1.0 and 0: margins 0.2, 0, 0.1.
  EXPECT_EQ(tightest_gap(map), 1u);
  map.inputs[1].now = 4;  // 1.0 and 4: -0.2, 0.2, 0.1
  EXPECT_EQ(tightest_gap(map), 0u);
  map.inputs[1].now = 99;  // anywhere: travel at 0.6 and 4 is short by 0.6
  EXPECT_EQ(tightest_gap(map), 0u);
  for (MapCell& cell : map.cells) cell.found.assign(3, NAN);
  EXPECT_EQ(tightest_gap(map), 0u);
  expect_tidy(drawn(map).page);
}

TEST(PlotMap, StrangeNumbersDoNoHarm) {
  for (const double value : {0.0, 1.5, 1e300, -1e8, static_cast<double>(NAN), static_cast<double>(-INFINITY)})
    for (MapResult map : {one_input(), two_inputs()}) {
      for (MapCell& cell : map.cells) cell.found.assign(3, value);
      map.cells[1].found[0] = 3;
      map.changed = {"valve.intake.lash=0.2 mm"};
      map.inputs[0].key = std::string(300, 'k');
      for (const Format& format : {kMm, kInches}) {
        const MapDrawn plot = drawn(map, {}, format);
        expect_tidy(plot.page);
        EXPECT_TRUE(wrote(plot.page, "Changed from the file: valve.intake.lash=0.2 mm."));
      }
      for (const PlotFile kind : {PlotFile::svg, PlotFile::pdf}) EXPECT_GT(plot_map(map, {}, kind, kMm).size(), 1000u);
    }
}

TEST(PlotMap, ManyGapsHaveRoom) {
  MapResult map = one_input();
  for (int pair = 0; pair < 9; ++pair) {
    map.gaps.push_back({"valve to valve", "intake " + std::to_string(pair) + " / exhaust", 0.8, pair % 2 == 0});
    for (MapCell& cell : map.cells) {
      cell.found.push_back(1 + 0.1 * pair);
      cell.holds.push_back(true);
    }
  }
  expect_tidy(drawn(map).page);
}

TEST(PlotMap, RefusesWhatIsNoMap) {
  MapResult map = two_inputs();
  EXPECT_THROW(drawn(map, {3}), Error);
  map.cells.pop_back();
  EXPECT_THROW(drawn(map), Error);
  EXPECT_THROW(tightest_gap(map), Error);
  map = two_inputs();
  map.cells[4].found.pop_back();
  EXPECT_THROW(drawn(map), Error);
  map = one_input();
  map.inputs[0].values[2] = map.inputs[0].values[1];
  EXPECT_THROW(drawn(map), Error);
  map = one_input();
  map.inputs.clear();
  EXPECT_THROW(drawn(map), Error);
}

}  // namespace
}  // namespace eyebrow
