// Cards that make a lobe, and most likely not the engine's. The bounds are common practice; the true lobes are cam
// laws, whose lifts are closed form.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"
#include "motion/example_lobes.hpp"

namespace eyebrow {
namespace {

using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// One cam, one lobe, one valve.
Engine engine_of(const Lobe& lobe, double ratio, double head_diameter) {
  Engine engine;
  engine.cylinder.stroke = 88;
  engine.cylinder.rod_length = 150;
  engine.gasket.thickness = 1;
  engine.cams = {{.name = "cam", .advance = 0}};
  engine.lobes = {lobe};
  Valve valve;
  valve.name = valve.lobe = lobe.name;
  valve.role = lobe.role;
  valve.rocker_ratio = ratio;
  valve.head_diameter = head_diameter;
  engine.valves = {valve};
  return engine;
}

std::vector<Fault> doubts_of(const Engine& engine) {
  return motion_doubts(engine, Motion(engine));
}

auto says(const std::string& key, const std::string& piece) {
  return AllOf(Field(&Fault::key, key), Field(&Fault::message, HasSubstr(piece)));
}

double half_width(const LiftCurve& curve, double lift) {
  double low = 0, high = curve.end();
  for (int i = 0; i < 60; ++i) (curve.lift((low + high) / 2) > lift ? low : high) = (low + high) / 2;
  return low;
}

/// The card of a lobe by a law: durations at 0.050 and 0.200 in, and what stands at TDC at the advance.
Lobe card_of_law(CamLaw law, Role role, double centre_degrees, double advance_degrees = 0) {
  Lobe truth;
  truth.name = role == Role::intake ? "intake" : "exhaust";
  truth.cam = "cam";
  truth.role = role;
  truth.centre = centre_degrees * kDegree;
  truth.lift = 0.360 * kInch;
  truth.law = law;
  truth.law_duration = 300 * kDegree;
  const LiftCurve curve = lift_curve(truth);
  Lobe card = truth;
  card.law.reset();
  card.law_duration = 0;
  for (const double lift : {0.050, 0.200})
    card.durations.push_back({lift * kInch, 2 * half_width(curve, lift * kInch)});
  card.tdc_advance = advance_degrees * kDegree;
  const double sign = role == Role::intake ? -1 : 1;
  card.tdc_lift = curve.lift(truth.centre + sign * card.tdc_advance);  // the laws are even
  return card;
}

TEST(CardDoubts, TenCleanCardsRaiseNone) {
  const auto expect_none = [](const Lobe& lobe, double ratio, double head_diameter) {
    for (const Fault& fault : doubts_of(engine_of(lobe, ratio, head_diameter))) ADD_FAILURE() << fault.message;
  };
  expect_none(examples::wedge_intake(), 1.6, 51.3);
  expect_none(examples::wedge_exhaust(), 1.6, 40.6);
  expect_none(examples::six_intake(), 1.55, 44);
  expect_none(examples::six_exhaust(), 1.55, 38);
  expect_none(examples::pent_roof_intake(), 1, 34);
  expect_none(examples::pent_roof_exhaust(), 1, 29);
  expect_none(card_of_law(CamLaw::poly345, Role::intake, 104), 1.5, 49.3);
  expect_none(card_of_law(CamLaw::cycloidal, Role::exhaust, 112), 1.5, 38.1);
  expect_none(card_of_law(CamLaw::modified_sine, Role::intake, 108, 4), 1.6, 50);
  expect_none(card_of_law(CamLaw::poly4567, Role::exhaust, 108, -4), 1.6, 41);
}

TEST(CardDoubts, TheLobesLiftStatedAsTheValves) {
  Lobe lobe = examples::six_intake();  // 0.345 in at the lobe, 8.76 mm: 0.18 of a head of 48.5 mm
  EXPECT_THAT(doubts_of(engine_of(lobe, 1.55, 48.5)), IsEmpty());
  lobe.measured = LiftAt::valve;
  EXPECT_THAT(doubts_of(engine_of(lobe, 1.55, 48.5)),
              ElementsAre(says("lobe.intake.measured",
                               "0.18 of its head's diameter; usual are 0.22 to 0.35 (common "
                               "practice), and it would be 0.28 if it was measured at the lobe")));
}

TEST(CardDoubts, TheValvesLiftStatedAsTheLobes) {
  Lobe lobe = examples::pent_roof_intake();  // 10 mm at the valve
  EXPECT_THAT(doubts_of(engine_of(lobe, 1.6, 34)), IsEmpty());
  lobe.measured = LiftAt::lobe;
  EXPECT_THAT(doubts_of(engine_of(lobe, 1.6, 34)),
              ElementsAre(says("lobe.intake.measured", "it would be 0.29 if it was measured at the valve")));
}

TEST(CardDoubts, ALiftAtTdcReadAtTheOtherEndOfTheRocker) {
  for (const Role role : {Role::intake, Role::exhaust}) {
    Lobe card = card_of_law(CamLaw::poly345, role, 106);
    *card.tdc_lift *= 1.6;
    EXPECT_THAT(doubts_of(engine_of(card, 1.6, 48)),
                ElementsAre(says("lobe." + card.name + ".lift_at_tdc", "it would fit if it was read at the valve")));
  }
}

TEST(CardDoubts, ALiftAtTdcWithTheOtherSignOfAdvance) {
  Lobe card = card_of_law(CamLaw::poly345, Role::intake, 100, 3);
  card.tdc_advance = -card.tdc_advance;
  EXPECT_THAT(doubts_of(engine_of(card, 1.5, 48)),
              ElementsAre(says("lobe.intake.lift_at_tdc", "it would fit with the other sign of tdc_advance")));
}

}  // namespace
}  // namespace eyebrow
