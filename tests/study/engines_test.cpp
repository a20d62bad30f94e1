// Facts of the trade on the example engines, from the file to the verdict.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "eyebrow/check.hpp"
#include "eyebrow/motion.hpp"
#include "eyebrow/spec.hpp"
#include "study/disc_engine.hpp"

namespace eyebrow::study {
namespace {

struct Case {
  Engine engine;
  CheckResult result;
  const ValveResult& valve(const std::string& name) const {
    for (const ValveResult& of : result.valves)
      if (of.name == name) return of;
    throw Error("no valve " + name);
  }
  const Minimum& least(const std::string& valve_name, GapKind kind) const { return valve(valve_name).minimum.at(kind); }
  std::vector<std::string> short_rows() const {
    std::vector<std::string> rows;
    for (const AskedRow& row : result.asked)
      if (!row.holds) rows.push_back(row.what + " " + row.valve);
    return rows;
  }
};

Case check(const std::string& model, const std::vector<std::string>& settings = {}, double step_degrees = 3) {
  std::vector<Override> overrides;
  for (const std::string& setting : settings) overrides.push_back(parse_override(setting));
  const EngineFile file = read_engine(EYEBROW_MODELS "/" + model + ".toml", overrides);
  return {file.engine,
          run_check(file.engine, build_parts(file.engine, file.origins), stepping(step_degrees * kDegree))};
}

const Case& wedge() {
  static const Case once = check("two_valve_wedge");
  return once;
}

TEST(Wedge, HoldsWithEveryMarginPositive) {
  EXPECT_EQ(wedge().result.verdict, Verdict::holds);
  EXPECT_EQ(wedge().result.asked.size(), 4u * 2 + 1 + 2 + 1);
  for (const AskedRow& row : wedge().result.asked) EXPECT_GT(row.margin, 0) << row.what << " " << row.valve;
}

/// As of a crown whose faces had to be joined: by its mesh, with the error of that.
TEST(Wedge, AMendedCrownIsToldFromTheLowerEnd) {
  const EngineFile file = read_engine(EYEBROW_MODELS "/two_valve_wedge.toml");
  Parts parts = build_parts(file.engine, file.origins);
  parts.crown.by_mesh = true;
  parts.crown.error = 0.02;
  const Case mended{file.engine, run_check(file.engine, parts, stepping(3 * kDegree))};
  for (const char* valve : {"intake", "exhaust"})
    for (const GapKind kind : kGapKinds) {
      SCOPED_TRACE(valve + std::string(" ") + to_string(kind));
      const Minimum &told = mended.least(valve, kind), &exact = wedge().least(valve, kind);
      EXPECT_LT(told.gap.value, exact.gap.value);
      EXPECT_GT(told.gap.value, exact.gap.value - 0.06);  // by the error, at the slope of a tilted floor
      EXPECT_GE(told.gap.high, exact.gap.value);
      EXPECT_EQ(told.gap.status, GapStatus::measured);
      EXPECT_THAT(told.reason, testing::HasSubstr("were joined"));
    }
  EXPECT_EQ(mended.result.conditions.crown_mended, 0.02);
  EXPECT_EQ(wedge().result.conditions.crown_mended, 0);
}

TEST(Wedge, TightSpotsLieAroundOverlap) {
  // Common practice: the exhaust is tightest 15 to 5 degrees before TDC, the intake 5 to 15 after, never at full lift.
  const double exhaust = wedge().least("exhaust", GapKind::travel).crank / kDegree;
  EXPECT_GE(exhaust, -15);
  EXPECT_LE(exhaust, -5);
  const double intake = wedge().least("intake", GapKind::travel).crank / kDegree;
  EXPECT_GE(intake, 5);
  EXPECT_LE(intake, 15);
  const Motion motion(wedge().engine);
  for (int number : {0, 1}) {
    const double peak = motion.lift(number, motion.lobe_centre(number));
    for (const auto& [kind, least] : wedge().result.valves[number].minimum) EXPECT_LT(least.lift, 0.6 * peak);
  }
}

TEST(Wedge, AdvanceTakesFromTheIntakeAndGivesToTheExhaust) {
  // Common practice.
  const Case early = check("two_valve_wedge", {"cam.advance=4"}), late = check("two_valve_wedge", {"cam.advance=-4"});
  for (GapKind kind : {GapKind::travel, GapKind::face}) {
    const auto value = [&](const Case& of, const char* valve) { return of.least(valve, kind).gap.value; };
    EXPECT_LT(value(early, "intake"), value(wedge(), "intake") - 0.1);
    EXPECT_GT(value(early, "exhaust"), value(wedge(), "exhaust") + 0.1);
    EXPECT_GT(value(late, "intake"), value(wedge(), "intake") + 0.1);
    EXPECT_LT(value(late, "exhaust"), value(wedge(), "exhaust") - 0.1);
  }
}

TEST(Wedge, LashAddsToTravelOneForOne) {
  // Common practice: what the train has of free play the valve does not move. Lash is stated at the valve.
  const Case running = check("two_valve_wedge", {"check.lash=running"});
  for (const char* name : {"intake", "exhaust"}) {
    const Series &zero = wedge().valve(name).series, &slack = running.valve(name).series;
    int compared = 0;
    for (std::size_t i = 0; i < zero.crank.size(); ++i) {
      if (slack.lift[i] <= 0 || std::isnan(zero.travel[i])) continue;
      EXPECT_NEAR(slack.travel[i] - zero.travel[i], 0.018 * kInch, kMicrometre) << zero.crank[i] / kDegree;
      ++compared;
    }
    EXPECT_GT(compared, 60);
  }
  EXPECT_TRUE(running.result.conditions.running_lash);
}

TEST(Wedge, MillingTheHead) {
  // Closed form (notes on milling and tilt): over a floor square to the valve, 0.010 in off the head takes
  // 0.010 cos 23 deg = 0.0092 in of travel at each crank angle; at the least as well, as all angles lose the same.
  const Case milled = check("two_valve_wedge", {"head.milled=0.010"});
  const double lost = 0.010 * kInch * std::cos(23 * kDegree);
  for (const char* name : {"intake", "exhaust"}) {
    EXPECT_NEAR(wedge().least(name, GapKind::travel).gap.value - milled.least(name, GapKind::travel).gap.value, lost,
                kMicrometre);
    EXPECT_NEAR(wedge().least(name, GapKind::face).gap.value - milled.least(name, GapKind::face).gap.value, lost,
                kMicrometre);
  }
}

TEST(Wedge, LeastDoesNotDependOnTheStep) {
  for (double step : {1.0, 2.0, 7.0}) {
    const Case other = check("two_valve_wedge", {}, step);
    for (const char* name : {"intake", "exhaust"})
      for (GapKind kind : kGapKinds) {
        EXPECT_NEAR(other.least(name, kind).gap.value, wedge().least(name, kind).gap.value, kMicrometre)
            << step << " " << name << " " << to_string(kind);
        EXPECT_GE(other.least(name, kind).crank, wedge().least(name, kind).span_from);
        EXPECT_LE(other.least(name, kind).crank, wedge().least(name, kind).span_to);
      }
  }
}

TEST(Wedge, RimThatEntersBrieflyIsSeenAtAnyStep) {
  // With no reach, the exhaust's radial gap exists only while its rim is in the pocket: a degree or two of crank.
  const EngineFile file = read_engine(EYEBROW_MODELS "/two_valve_wedge.toml");
  Engine engine = file.engine;
  engine.asked.valve[Role::exhaust].reach = 0;
  const Parts parts = build_parts(engine, file.origins);
  double first = NAN;
  for (double step : {1.0, 5.0, 9.0}) {
    const CheckResult result = run_check(engine, parts, stepping(step * kDegree));
    const Minimum& least = result.valves[1].minimum.at(GapKind::radial);
    ASSERT_TRUE(least.gap.measured()) << step;
    if (std::isnan(first)) first = least.gap.value;
    EXPECT_NEAR(least.gap.value, first, kMicrometre) << step;
    // The line to the wall is square to the tilted axis: it reaches below the mouth from a little above it.
    EXPECT_GT(least.entry, -least.gap.value * std::sin(23 * kDegree) - kMicrometre);
    EXPECT_GE(result.valves[1].deepest_entry, least.entry - kMicrometre);
    EXPECT_LT(result.valves[1].deepest_entry, 0.1);
  }
}

TEST(Wedge, RimThatBeginsToHitTheMouthMakesTravelJump) {
  // The intake set 0.065 in toward its pocket's far wall: near TDC its rim begins to strike the mouth's edge, where a
  // hair earlier it passed down to the floor. Travel jumps by millimetres; the lower value is told, at any step.
  double first = NAN;
  for (double step : {1.0, 3.0}) {
    const Case engine = check("two_valve_wedge", {"valve.intake.x=0.165"}, step);
    const Minimum& least = engine.least("intake", GapKind::travel);
    EXPECT_EQ(least.gap.status, GapStatus::jump);
    EXPECT_EQ(least.gap.value, least.gap.low);
    EXPECT_GT(least.gap.high - least.gap.low, 3);
    EXPECT_THAT(least.reason, testing::HasSubstr("grazes"));
    if (std::isnan(first)) first = least.gap.value;
    EXPECT_NEAR(least.gap.value, first, kMicrometre);
    // Both sides of it, where the path itself crosses; half a micrometre beside the path it goes on for a little,
    // lower.
    EXPECT_LT(least.before, 0);
    EXPECT_GE(least.before, least.gap.low);
    EXPECT_GT(least.after, 3);
    EXPECT_LT(least.after, least.gap.high + 0.5);
    EXPECT_NEAR(least.span_to, least.crank, 0.002 * kDegree);
  }
}

TEST(Wedge, ReportedLeastIsNoMoreThanAnySample) {
  for (const ValveResult& valve : wedge().result.valves) {
    const Series& series = valve.series;
    const auto above_least = [&](double sample, GapKind kind) {  // or none
      return std::isnan(sample) || sample >= valve.minimum.at(kind).gap.value - 2e-4;
    };
    for (std::size_t i = 0; i < series.crank.size(); ++i) {
      EXPECT_TRUE(above_least(series.travel[i], GapKind::travel));
      EXPECT_TRUE(above_least(series.face[i], GapKind::face));
      EXPECT_TRUE(above_least(series.radial[i], GapKind::radial));
      EXPECT_TRUE(above_least(series.closest[i], GapKind::closest));
      // A gap in some one direction is never shorter than the closest.
      EXPECT_FALSE(series.travel[i] < series.closest[i] - kMicrometre);
      EXPECT_FALSE(series.face[i] < series.closest[i] - kMicrometre);
    }
  }
}

TEST(Wedge, PointsLieTheGapApartOnTheirParts) {
  for (const ValveResult& valve : wedge().result.valves)
    for (GapKind kind : kGapKinds) {
      const Minimum& least = valve.minimum.at(kind);
      EXPECT_NEAR(norm(least.point_valve - least.point_other), least.gap.value, 2 * kMicrometre) << to_string(kind);
      EXPECT_LE(least.point_other.z, -least.piston_depth + kMicrometre);  // no part of this crown is above its flat
      EXPECT_GE(least.clock, 0);
      EXPECT_LT(least.clock, 12);
      EXPECT_THAT(least.face_other,
                  testing::AnyOf("crown flat", valve.name + " pocket floor", valve.name + " pocket wall"));
    }
}

TEST(InlineSix, BigValveHeadIsShortOnTheIntakesRimAlone) {
  const Case stock = check("inline_six_stock"), big = check("inline_six_big_valve");
  EXPECT_EQ(stock.result.verdict, Verdict::holds);
  EXPECT_EQ(big.result.verdict, Verdict::short_);
  EXPECT_THAT(big.short_rows(), testing::UnorderedElementsAre("radial intake", "closest intake"));
  EXPECT_GT(big.least("intake", GapKind::radial).gap.value, 0);
  EXPECT_GT(big.least("intake", GapKind::closest).gap.value, 0);
  for (const char* name : {"intake", "exhaust"})
    for (GapKind kind : {GapKind::travel, GapKind::face})
      EXPECT_GE(big.least(name, kind).gap.value, stock.least(name, kind).gap.value);
}

TEST(PentRoof, HoldsAndIsTheSameFrontAndRear) {
  const Case engine = check("four_valve_pent_roof");
  EXPECT_EQ(engine.result.verdict, Verdict::holds);
  EXPECT_EQ(engine.result.pairs.size(), 6u);
  EXPECT_EQ(engine.result.piston_to_head_checked, "deck and gasket only; dome to chamber not checked");
  for (const char* role : {"intake", "exhaust"}) {
    const std::string front = std::string(role) + "_front", rear = std::string(role) + "_rear";
    for (GapKind kind : kGapKinds)
      EXPECT_NEAR(engine.least(front, kind).gap.value, engine.least(rear, kind).gap.value, kMicrometre);
  }
  // Closed form: two valves on parallel axes that move together keep their closed distance, 2 y - D.
  EXPECT_NEAR(engine.result.pairs[0].minimum.gap.value, 2 * 18.6 - 34.0, kMicrometre);
  EXPECT_EQ(engine.result.pairs[0].minimum.crank, 0);
}

TEST(PentRoof, PhasersAtTheirStopsMoveTheGapsApart) {
  // Common practice: variable timing is checked at both stops. Intake most advanced with exhaust most retarded.
  const Case parked = check("four_valve_pent_roof", {}, 6);
  const Case overlap = check("four_valve_pent_roof", {"cam.intake.advance=32", "cam.exhaust.advance=-20"}, 6);
  for (const char* name : {"intake_front", "exhaust_front"})
    EXPECT_LT(overlap.least(name, GapKind::travel).gap.value, parked.least(name, GapKind::travel).gap.value - 1);
  EXPECT_LT(overlap.result.pairs[1].minimum.gap.value, parked.result.pairs[1].minimum.gap.value);
  EXPECT_DOUBLE_EQ(overlap.result.conditions.advance.at("intake"), 32 * kDegree);
}

TEST(Canted, Holds) {
  const Case engine = check("canted_valve");
  EXPECT_EQ(engine.result.verdict, Verdict::holds) << testing::PrintToString(engine.short_rows());
  EXPECT_GE(engine.least("intake", GapKind::travel).crank, 5 * kDegree);
  EXPECT_LE(engine.least("exhaust", GapKind::travel).crank, -5 * kDegree);
}

}  // namespace
}  // namespace eyebrow::study
