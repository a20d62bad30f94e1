// Rows and verdict from made-up results.
#include "study/asked.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace eyebrow::study {
namespace {

Minimum measured(double value) {
  Minimum least;
  least.gap.status = GapStatus::measured;
  least.gap.value = least.gap.low = least.gap.high = value;
  return least;
}

Minimum none(GapStatus status) {
  Minimum least;
  least.gap.status = status;
  return least;
}

struct Made {
  Engine engine;
  CheckResult result;
  Made() {
    engine.asked.valve[Role::intake] = {2, 1.5, 1, 0.5, 2};
    engine.asked.valve_to_valve = 0.7;
    engine.asked.valve_to_bore = 0.7;
    engine.asked.piston_to_head = 1;
    ValveResult valve;
    valve.name = "inlet 1";
    valve.minimum = {{GapKind::travel, measured(2.5)},
                     {GapKind::face, measured(1.6)},
                     {GapKind::radial, measured(1.1)},
                     {GapKind::closest, measured(0.6)}};
    valve.bore = measured(0.8);
    result.valves = {valve};
    result.pairs = {{"inlet 1", "outlet", measured(0.9)}};
    result.piston_to_head = 1;
  }
  Minimum& least(GapKind kind) { return result.valves[0].minimum[kind]; }
  AskedRow row(const std::string& what) {
    for (const AskedRow& asked : asked_rows(engine, result))
      if (asked.what == what) return asked;
    ADD_FAILURE() << what;
    return {};
  }
  Verdict verdict() {
    result.asked = asked_rows(engine, result);
    return verdict_of(result);
  }
};

TEST(Asked, OneRowForEachGap) {
  Made made;
  const std::vector<AskedRow> rows = asked_rows(made.engine, made.result);
  ASSERT_EQ(rows.size(), 7u);
  EXPECT_DOUBLE_EQ(made.row("travel").margin, 0.5);
  EXPECT_EQ(made.row("valve to valve").valve, "inlet 1 / outlet");
  EXPECT_TRUE(made.row("piston to head").holds);  // exactly what is asked
  EXPECT_EQ(made.verdict(), Verdict::holds);
}

TEST(Asked, AHairLessIsShort) {
  Made made;
  made.least(GapKind::travel) = measured(2.0 - 1e-9);
  EXPECT_FALSE(made.row("travel").holds);
  EXPECT_EQ(made.verdict(), Verdict::short_);
}

// A gasket of 0.041 in and a deck that stands 0.001 in proud leave 0.040 in, whatever their doubles add up to.
TEST(Asked, TheRoundingOfASumIsNotShort) {
  Made made;
  made.engine.asked.piston_to_head = 0.040 * kInch;
  made.result.piston_to_head = 0.041 * kInch - 0.001 * kInch;
  EXPECT_TRUE(made.row("piston to head").holds);
  EXPECT_EQ(made.row("piston to head").margin, 0);
  made.result.piston_to_head = std::nextafter(made.engine.asked.piston_to_head, 0.0);
  EXPECT_TRUE(made.row("piston to head").holds);
}

TEST(Asked, AValveThatNeverMeetsThePistonIsNoneToTrust) {
  Made made;
  made.least(GapKind::travel) = none(GapStatus::no_meeting);
  EXPECT_FALSE(made.row("travel").holds);
  EXPECT_EQ(made.verdict(), Verdict::short_);
}

TEST(Asked, NoRadialGapIsHeldByTheClosest) {
  Made made;
  made.least(GapKind::radial) = none(GapStatus::not_in_reach);
  EXPECT_TRUE(made.row("radial").holds);
  EXPECT_TRUE(std::isnan(made.row("radial").found));
  EXPECT_FALSE(made.row("radial").note.empty());
  made.least(GapKind::closest) = measured(0.4);
  EXPECT_FALSE(made.row("radial").holds);
}

TEST(Asked, NoFaceGapIsHeldByTheTravel) {
  Made made;
  made.least(GapKind::face) = none(GapStatus::no_meeting);
  EXPECT_TRUE(made.row("face").holds);
  made.least(GapKind::travel) = measured(1.9);
  EXPECT_FALSE(made.row("face").holds);
}

TEST(Asked, ContactIsWhereMetalMeetsNow) {
  for (GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest}) {
    Made made;
    made.least(kind) = measured(-1e-3);
    EXPECT_EQ(made.verdict(), Verdict::contact) << to_string(kind);
  }
  Made made;  // a rim that would hit the wall if it went on is not touching it yet
  made.least(GapKind::radial) = measured(-0.1);
  EXPECT_EQ(made.verdict(), Verdict::short_);
  made = {};
  made.result.pairs[0].minimum = measured(-0.1);
  EXPECT_EQ(made.verdict(), Verdict::contact);
  made = {};
  made.result.valves[0].bore = measured(-0.1);
  EXPECT_EQ(made.verdict(), Verdict::contact);
  made = {};
  made.result.piston_to_head = 0;
  EXPECT_EQ(made.verdict(), Verdict::contact);
}

TEST(Asked, VerdictWords) {
  EXPECT_STREQ(to_string(Verdict::holds), "holds");
  EXPECT_STREQ(to_string(Verdict::short_), "short");
  EXPECT_STREQ(to_string(Verdict::contact), "contact");
}

}  // namespace
}  // namespace eyebrow::study
