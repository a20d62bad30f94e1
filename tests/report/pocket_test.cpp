// Sized pockets as text, JSON, sheet and edits of the engine file; a made-up result.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "eyebrow/pocket_report.hpp"
#include "report/plot_checks.hpp"
#include "report/pocket_sheet.hpp"

namespace eyebrow {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::Not;

PocketResult sized() {
  PocketResult result;
  result.engine_name = "sample engine (invented)";
  result.units = LengthUnit::inch;
  result.step = 0.0001 * kInch;
  Engine& engine = result.engine;
  engine.piston.crown_diameter = 4 * kInch;
  Pocket before;
  before.name = "intake";
  before.y = 0.8 * kInch;
  before.diameter = 1.9 * kInch;
  before.depth = 0.12 * kInch;
  before.depth_to = DepthTo::sharp_edge;
  before.tilt = 12 * kDegree;
  Pocket after = before;
  after.diameter = 1.9975 * kInch;
  after.depth = 0.1374 * kInch;
  after.depth_to = DepthTo::deepest;
  after.corner_radius = 1.5;
  engine.piston.pockets = {after};
  Valve valve;
  valve.name = "intake";
  valve.pocket = 0;
  valve.head_diameter = 1.84 * kInch;
  engine.valves = {valve};
  SizedPocket one;
  one.valve = one.number = 0;
  one.before = before;
  one.pocket = after;
  one.changed = true;
  one.depth.by = "intake.travel";
  one.diameter.by = "intake.radial";
  one.volume = 2500;
  result.pockets = {one};
  AskedRow row;
  row.what = "travel";
  row.valve = "intake";
  row.required = 0.08 * kInch;
  row.found = 0.0801 * kInch;
  row.margin = 0.0001 * kInch;
  row.holds = true;
  result.asked = {row};
  MetalLeft groove;
  groove.pocket = "intake";
  groove.missing = "piston.ring_groove_depth";
  result.left_before = result.left = {groove};
  result.costs = {{{"travel and face", "intake", 0.08 * kInch, false}, 0.127, 60, 0.004}};
  return result;
}

TEST(PocketText, TellsEveryNumberAndWhatBindsIt) {
  const std::string text = pocket_text(sized(), {LengthUnit::inch});
  EXPECT_THAT(text,
              AllOf(HasSubstr("diameter                      1.9000      1.9975   a step less: intake.radial is short"),
                    HasSubstr("depth (deepest)                    -      0.1374   a step less: intake.travel is short"),
                    HasSubstr("corner radius                 0.0000      0.0591"),
                    HasSubstr("intake pocket to the ring groove            NOT KNOWN"),
                    HasSubstr("CROWN LEFT IS NOT KNOWN"), HasSubstr("no permission to cut")));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 100u) << line;
}

TEST(PocketText, SaysWhatDoesNotFit) {
  PocketResult result = sized();
  result.pockets[0].misses = {{"metal to the ring groove", 6, 5.807}};
  const std::string text = pocket_text(result, {LengthUnit::mm});
  EXPECT_THAT(text, AllOf(HasSubstr("DOES NOT LEAVE metal to the ring groove, 5.80 of 6.00 mm\n"),
                          HasSubstr("NO SUCH POCKET FITS"), HasSubstr(": metal to the ring groove, 5.80 of 6.00 mm\n"),
                          Not(HasSubstr("Every asked gap of the valves"))));
  const auto misses = nlohmann::json::parse(pocket_json(result))["pockets"][0]["misses"];
  ASSERT_EQ(misses.size(), 1u);
  EXPECT_EQ(misses[0]["what"], "metal to the ring groove");
  EXPECT_DOUBLE_EQ(misses[0]["asked"].get<double>(), 6);
  EXPECT_DOUBLE_EQ(misses[0]["found"].get<double>(), 5.807);
}

TEST(PocketJson, HasItsNumbersInMillimetresAndDegrees) {
  const auto json = nlohmann::json::parse(pocket_json(sized()));
  EXPECT_EQ(json["schema"], "eyebrow.pocket/1");
  EXPECT_DOUBLE_EQ(json["pockets"][0]["pocket"]["diameter"].get<double>(), 1.9975 * 25.4);
  EXPECT_DOUBLE_EQ(json["pockets"][0]["pocket"]["tilt"].get<double>(), 12);
  EXPECT_EQ(json["crown_left"][0]["state"], "not known");
  EXPECT_TRUE(json["crown_left"][0]["value"].is_null());
  EXPECT_TRUE(json["compression"].is_null());
}

// A changed number is written as it was told; a cutter in mm stays one in an inch file; what stays is not written.
TEST(PocketEdits, AreTheChangesAlone) {
  std::vector<std::string> told;
  for (const PocketEdit& edit : pocket_edits(sized(), {"pocket.intake.arc_chord", "pocket.intake.arc_height"}, true))
    told.push_back(edit.key + "=" + edit.typed);
  EXPECT_THAT(told, ::testing::ElementsAre("pocket.intake.arc_chord=", "pocket.intake.arc_height=",
                                           "pocket.intake.diameter=1.9975", "pocket.intake.depth=0.1374",
                                           "pocket.intake.depth_to=deepest", "pocket.intake.corner_radius=1.5 mm"));
  PocketResult fresh = sized();
  fresh.pockets[0].before.reset();
  const auto edits = pocket_edits(fresh, {}, false);
  EXPECT_EQ(edits.front().typed, "0.0000 in");
  EXPECT_EQ(edits.back().key, "valve.intake.pocket");
}

// A PDF is printed: a page of A4 on its side for each pocket.
TEST(PocketSheet, HasAPageForEachPocketInAPdf) {
  PocketResult two = sized();
  two.pockets.push_back(two.pockets.front());
  for (const PocketResult& result : {sized(), two}) {
    const std::string pdf = pocket_sheet(result, PlotFile::pdf, {LengthUnit::inch});
    const std::regex page("/Type /Page\\b"), a4("/MediaBox \\[ 0 0 841\\.8[0-9]* 595\\.2[0-9]* \\]");
    const auto count = [&](const std::regex& of) {
      return static_cast<std::size_t>(
          std::distance(std::sregex_iterator(pdf.begin(), pdf.end(), of), std::sregex_iterator()));
    };
    EXPECT_EQ(count(page), result.pockets.size());
    EXPECT_EQ(count(a4), result.pockets.size());
  }
}

TEST(PocketSheet, SaysByHowMuchSomethingIsMissing) {
  PocketResult result = sized();
  result.pockets[0].misses = {{"metal to the ring groove", 6, 5.807}};
  EXPECT_THAT(pocket_sheet(result, PlotFile::svg, {LengthUnit::mm}),
              HasSubstr("DOES NOT LEAVE metal to the ring groove, 5.80 of 6.00 mm"));
}

TEST(PocketSheet, IsDrawnInEveryKind) {
  EXPECT_THAT(pocket_sheet(sized(), PlotFile::svg, {LengthUnit::inch}), HasSubstr("<svg"));
  EXPECT_THAT(pocket_sheet(sized(), PlotFile::pdf, {LengthUnit::inch}), ::testing::StartsWith("%PDF"));
  EXPECT_EQ(pocket_sheet(sized(), PlotFile::svg, {}), pocket_sheet(sized(), PlotFile::svg, {}));
}

// What stands over the crown flat is said and drawn: the cutter meets it first.
TEST(PocketSheet, TellsOfARoofAndOfThinWalls) {
  PocketResult result = sized();
  const std::string flat = words_of(plot::draw_pocket_sheet(result, PlotFile::svg, {LengthUnit::mm}));
  EXPECT_THAT(flat, AllOf(HasSubstr("the cutter meets its low side only"), Not(HasSubstr("stands over its flat")),
                          Not(HasSubstr("glow and crack"))));
  result.engine.piston.roof_dome = RoofDome{4, {{15 * kDegree, 0, 30}, {15 * kDegree, kPi, 30}}};
  MetalLeft edge;
  edge.pocket = "intake";
  edge.to = MetalLeft::To::edge;
  edge.state = MetalLeft::State::measured;
  edge.value = edge.low = 0.3;
  result.left.push_back(edge);
  const std::string roofed = words_of(plot::draw_pocket_sheet(result, PlotFile::svg, {LengthUnit::mm}));
  EXPECT_THAT(roofed, AllOf(HasSubstr("the crown stands over its flat by up to"), HasSubstr("4.000 mm"),
                            HasSubstr("Walls below some 2.0 mm glow and crack"),
                            Not(HasSubstr("the cutter meets its low side only"))));
  EXPECT_NE(pocket_sheet(result, PlotFile::svg, {}), pocket_sheet(sized(), PlotFile::svg, {}));
}

}  // namespace
}  // namespace eyebrow
