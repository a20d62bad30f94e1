// Lift tables that are most likely a slip of the reading; all made up. The bounds are common practice.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/fault.hpp"
#include "motion/known_tables.hpp"
#include "motion/table_fit.hpp"

namespace eyebrow {

namespace {

using known::TrueLobe;
using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

/// An intake lobe's table in crank angles, its exhaust the mirror image of it.
Engine engine_of(const Lobe& intake) {
  Engine engine;
  engine.cylinder.stroke = 88;
  engine.cylinder.rod_length = 150;
  engine.gasket.thickness = 1;
  engine.cams = {{.name = "cam", .advance = 0}};
  Lobe exhaust = intake;
  exhaust.name = "exhaust";
  exhaust.role = Role::exhaust;
  std::vector<double>&angle = exhaust.table->angle, &lift = exhaust.table->lift;
  for (double& each : angle) each = -each;
  std::reverse(angle.begin(), angle.end());
  std::reverse(lift.begin(), lift.end());
  engine.lobes = {intake, exhaust};
  for (const Lobe& lobe : engine.lobes) {
    Valve valve;
    valve.name = valve.lobe = lobe.name;
    valve.role = lobe.role;
    valve.head_diameter = 38;
    engine.valves.push_back(valve);
  }
  return engine;
}

/// Each "key: message".
std::vector<std::string> all_doubts_of(const Engine& engine) {
  std::vector<std::string> texts;
  for (const Fault& fault : motion_doubts(engine, Motion(engine))) texts.push_back(fault.key + ": " + fault.message);
  return texts;
}

/// What is told of the intake.
std::vector<std::string> intake_doubts_of(const Engine& engine) {
  std::vector<std::string> texts = all_doubts_of(engine);
  std::erase_if(texts, [](const std::string& text) { return text.find("lobe.exhaust") == 0; });
  return texts;
}

auto intake_says(const std::string& key, const std::string& piece) {
  return AllOf(StartsWith("lobe.intake." + key + ": "), HasSubstr(piece));
}

TrueLobe usual() {
  return {.law = CamLaw::poly345,
          .lift = 10,
          .rise = 150 * kDegree,
          .fall = 150 * kDegree,
          .ramp = 25 * kDegree,
          .ramp_lift = 0.3,
          .peak = 106 * kDegree};
}

Lobe table_of(const TrueLobe& truth, const known::Reading& how, unsigned seed = 1) {
  std::mt19937 random(seed);
  return read_table(truth, how, random);
}

// Every cam law, at the lobe and at the valve, flanks alike and not, noisy and rounded, from base circle to base circle
// and all the way round, ramps short and long.
TEST(TableDoubts, TenCleanLobesRaiseNone) {
  int clean = 0;
  const auto expect_none = [&](TrueLobe truth, known::Reading how, LiftAt measured = LiftAt::valve, double ratio = 1) {
    truth.peak = 106 * kDegree;
    if (how.to - how.from < 4 * kPi - 1e-9) how.from += truth.peak, how.to += truth.peak;
    Lobe lobe = table_of(truth, how);
    lobe.measured = measured;
    lobe.table->stated_centre = motion::fit_table(lobe, *std::make_unique<std::vector<Fault>>())->centre;
    Engine engine = engine_of(lobe);
    engine.lobes[1].table->stated_centre.reset();
    for (Valve& valve : engine.valves) valve.rocker_ratio = ratio;
    EXPECT_THAT(all_doubts_of(engine), IsEmpty()) << "lobe " << ++clean;
  };
  const known::Reading part{.from = -200 * kDegree, .to = 200 * kDegree, .error = 0.01};
  TrueLobe lobe = usual();
  expect_none(lobe, {.error = 0.0127});
  expect_none(lobe, part);
  expect_none(lobe, {.digit = 0.0254});
  expect_none(lobe, {.step = 4 * kDegree, .uneven = true, .error = 0.01});
  lobe.law = CamLaw::cycloidal, lobe.fall = 160 * kDegree;
  expect_none(lobe, {.error = 0.01});
  lobe.law = CamLaw::harmonic, lobe.ramp = 40 * kDegree, lobe.ramp_lift = 0.2;
  expect_none(lobe, {.error = 0.01});
  lobe = usual(), lobe.law = CamLaw::modified_sine, lobe.lift = 8, lobe.ramp_lift = 0.15;
  expect_none(lobe, part, LiftAt::lobe, 1.5);
  lobe.law = CamLaw::modified_trapezoid, lobe.lift = 7.5;
  expect_none(lobe, {.step = 1 * kDegree, .error = 0.005}, LiftAt::lobe, 1.6);
  lobe = usual(), lobe.law = CamLaw::poly4567, lobe.lift = 12, lobe.rise = lobe.fall = 160 * kDegree;
  expect_none(lobe, {.digit = 0.01});
  lobe = usual(), lobe.lift = 9, lobe.ramp = 12 * kDegree, lobe.ramp_lift = 0.12;
  expect_none(lobe, {.digit = 0.00254});
}

TEST(TableDoubts, ABaseCircleOffZero) {
  const auto doubts = intake_doubts_of(engine_of(table_of(usual(), {.error = 0.005, .level = 0.03})));
  ASSERT_THAT(doubts, ElementsAre(intake_says("table", "base circle stands at 0.0")));
}

TEST(TableDoubts, RunOutOnceATurn) {
  const auto doubts = intake_doubts_of(engine_of(table_of(usual(), {.error = 0.005, .run_out = 0.03})));
  EXPECT_THAT(doubts, ElementsAre(intake_says("table", "runs out by 0.06")));
}

TEST(TableDoubts, ReadingsThatScatterByMoreThanStated) {
  Lobe lobe = table_of(usual(), {.error = 0.008});
  lobe.table->reading_error = 0.0005;
  EXPECT_THAT(intake_doubts_of(engine_of(lobe)),
              Contains(intake_says("reading_error", "more than their reading error, 0.001 mm")));
}

TEST(TableDoubts, AngleZeroThatIsNotTheCentre) {
  Lobe lobe = table_of(usual(), {.error = 0.005});
  lobe.table->about_centre = true;
  lobe.centre = 106 * kDegree;
  for (double& angle : lobe.table->angle) angle -= 94 * kDegree;  // angle 0 is 12 crank degrees before the nose
  EXPECT_THAT(intake_doubts_of(engine_of(lobe)), ElementsAre(AllOf(intake_says("table_angles", "stands at 12.0"),
                                                                   intake_says("table_angles", "the peak at 1"))));
}

TEST(TableDoubts, AStatedCentreThatIsNotTheTables) {
  for (const double stated : {105.2, 106.8, 104.0, 116.0}) {
    SCOPED_TRACE(stated);
    Lobe lobe = table_of(usual(), {.error = 0.005});
    lobe.table->stated_centre = stated * kDegree;
    const auto doubts = intake_doubts_of(engine_of(lobe));
    if (std::fabs(stated - 106) < 1) {
      EXPECT_THAT(doubts, IsEmpty());
    } else {
      EXPECT_THAT(doubts, ElementsAre(AllOf(intake_says("centre", std::to_string(stated).substr(0, 5)),
                                            intake_says("centre", "but its table has it at 10"))));
    }
  }
  // Of an exhaust, before TDC.
  Engine engine = engine_of(table_of(usual(), {.error = 0.005}));
  engine.lobes[1].table->stated_centre = 110 * kDegree;
  EXPECT_THAT(all_doubts_of(engine), ElementsAre(HasSubstr("stated at 110.00 deg before overlap TDC")));
}

TEST(TableDoubts, LobeLiftGivenAsValveLiftAndTheReverse) {
  TrueLobe truth = usual();
  truth.lift = 6.8;  // 0.18 of 38 mm
  Lobe lobe = table_of(truth, {.error = 0.005});
  Engine engine = engine_of(lobe);
  engine.valves[0].rocker_ratio = 1.6;
  EXPECT_THAT(intake_doubts_of(engine), ElementsAre(intake_says("measured", "0.18 of its head's diameter")));
  engine.lobes[0].measured = LiftAt::lobe;
  EXPECT_THAT(intake_doubts_of(engine), IsEmpty());
  truth.lift = 11;  // 0.29 and, times 1.6, 0.46
  engine.lobes[0] = table_of(truth, {.error = 0.005});
  engine.lobes[0].measured = LiftAt::lobe;
  EXPECT_THAT(intake_doubts_of(engine), ElementsAre(intake_says("measured", "0.46 of its head's diameter")));
}

// The same readings over 0.45 mm of lash: zero until the lobe has taken it up.
TEST(TableDoubts, LashInTheReadings) {
  Lobe lobe = table_of(usual(), {.error = 0.005});
  const double lash = 0.45;
  for (double& lift : lobe.table->lift) lift = std::max(0.0, lift - lash);
  lobe.lift -= lash;
  EXPECT_THAT(intake_doubts_of(engine_of(lobe)), ElementsAre(intake_says("table", "without a ramp")));
}

TEST(TableDoubts, ATableThatBeginsAtACheckingLift) {
  // Where the lift is 0.04 mm on either side, and no further.
  Lobe lobe = table_of(usual(), {.error = 0.002});
  Lobe cut = lobe;
  cut.table->angle.clear(), cut.table->lift.clear();
  for (double d = -150; d <= 150; d += 2) {
    const double angle = 106 * kDegree + d * kDegree, lift = usual().at(angle);
    if (lift < 0.035) continue;
    cut.table->angle.push_back(angle), cut.table->lift.push_back(lift);
  }
  EXPECT_THAT(intake_doubts_of(engine_of(cut)),
              ElementsAre(intake_says("table", "begins at a lift of 0.0"), intake_says("table", "ends at a")));
}

TEST(TableDoubts, DegreesOfTheWrongKind) {
  for (const double times : {0.5, 2.0}) {
    TrueLobe truth = usual();
    truth.rise *= times, truth.fall *= times, truth.ramp *= times;
    Lobe lobe = table_of(truth, {.error = 0.005});
    EXPECT_THAT(
        intake_doubts_of(engine_of(lobe)),
        Contains(intake_says("table_degrees", times < 1 ? "check that its angles are crank degrees" : "doubled")));
  }
}

}  // namespace
}  // namespace eyebrow
