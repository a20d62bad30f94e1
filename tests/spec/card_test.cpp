// What else a cam card says: one duration, lifts at lobe and valve together, the ramp, the lift at TDC.
#include "eyebrow/motion.hpp"
#include "spec/card_support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

TEST(Card, OneDurationIsEnough) {
  const Engine engine = parsed(with_intake_card("centre = 104\ndurations = [ { at = 0.050, duration = 266 } ]")).engine;
  ASSERT_EQ(engine.lobes[0].durations.size(), 1u);
  EXPECT_NEAR(Motion(engine).lift(0, (104 - 133) * kDegree), 1.6 * 1.27, 1e-6);
}

// An advertised duration without its checking lift says nothing; the message tells what is missing and what is usual.
TEST(Card, AnAdvertisedDurationNeedsItsCheckingLift) {
  expect_one_fault(with_intake_card("centre = 104\ndurations = [ { duration = 292 } ]"), "{ duration = 292 }",
                   {"missing key \"at\" in [lobe.intake.durations.1]",
                    "an advertised duration has one too, 0.1 to 0.2 mm (0.004 to 0.008 in, 0.006 by SAE)"});
}

// Closed form: the rocker's 1.6 carries 0.08 in at the valve to 0.05 in at the lobe.
TEST(Card, LiftsAtTheValveAndAtTheLobe) {
  const std::string plain =
      with_intake_card("centre = 104\ndurations = [ { at = 0.050, duration = 266 }, { at = 0.200, duration = 182 } ]");
  const std::string mixed = with_intake_card(
      "centre = 104\ndurations = [ { at = 0.080, duration = 266, measured = \"valve\" }, { at = 0.200, duration = 182 "
      "} ]");
  const Engine a = parsed(plain).engine, b = parsed(mixed).engine;
  ASSERT_EQ(b.lobes[0].durations.size(), 2u);
  for (std::size_t i = 0; i < 2; ++i) EXPECT_NEAR(a.lobes[0].durations[i].lift, b.lobes[0].durations[i].lift, 1e-12);
  EXPECT_THAT(warnings_of(mixed), IsEmpty());
  // The greatest lift at the valve, 0.688 in; and all of it the other way round.
  const Engine c =
      parsed(replaced(plain, "lift     = 0.430\ncentre", "lift = 0.688\nlift_measured = \"valve\"\ncentre")).engine;
  EXPECT_NEAR(c.lobes[0].lift, 0.430 * kInch, 1e-12);
  const Engine d = parsed(with_intake_card("lift_measured = \"lobe\"\ncentre = 104\n"
                                           "events = [ { at = 0.050, measured = \"lobe\", opens = 29, closes = 57 } ]",
                                           "valve"))
                       .engine;
  EXPECT_NEAR(d.lobes[0].lift, 0.688 * kInch, 1e-12);
  EXPECT_NEAR(d.lobes[0].durations[0].lift, 0.080 * kInch, 1e-12);
}

// Lifts in rising order only once they stand on one side.
TEST(Card, OrderIsTakenOnOneSide) {
  const auto with = [](const std::string& at) {
    return with_intake_card("centre = 104\ndurations = [ { at = " + at +
                            ", duration = 240, measured = \"valve\" }, { at = 0.050, duration = 266 } ]");
  };
  EXPECT_THAT(faults_of(with("0.0801")), IsEmpty());
  expect_one_fault(with("0.0799"), "266",
                   {"lobe.intake.durations.2.duration is 266 deg at 0.05 in; it must be less than the 240 deg at "
                    "0.0499375 in at the lobe"});
  expect_one_fault(with("0.080"), "0.050, duration = 266", {"0.05 in is stated twice"});
  expect_one_fault(with("0.688"), "0.688", {"durations.1.at is 0.43 in at the lobe; a checking lift must be below"});
}

TEST(Card, LiftsOnBothSidesNeedARockerRatio) {
  const std::string card = "centre = 104\ndurations = [ { at = 0.050, duration = 266, measured = \"lobe\" } ]";
  std::string text = with_intake_card(card, "valve");
  const auto at = text.find("rocker_ratio = 1.6");
  text.erase(at, 18);
  expect_one_fault(text, "\"lobe\" } ]",
                   {"[lobe.intake] has lifts measured at the lobe and at the valve",
                    "state rocker_ratio in "
                    "[valve.intake] (1 = direct)"});
  const std::string second = replaced(
      with_intake_card(card, "valve"), "[valve.exhaust]\nrole = \"exhaust\"",
      "[valve.intake_b]\nlike = \"intake\"\nrocker_ratio = 1.5\npocket = \"none\"\ny = 0\n[valve.exhaust]\nrole "
      "= \"exhaust\"");
  expect_one_fault(second, "\"lobe\" } ]", {"valves \"intake\" and \"intake_b\" have two that differ"});
  expect_one_fault(
      with_intake_card("centre = 104\ndurations = [ { at = 0.050, duration = 266, measured = \"vlave\" } ]"),
      "\"vlave\"", {"allowed are lobe, valve: did you mean \"valve\"?"});
}

TEST(Card, RampAndLiftAtTdc) {
  const Engine engine = parsed(with_intake_card("centre = 104\ndurations = [ { at = 0.050, duration = 266 } ]\n"
                                                "ramp_duration = 40\nlift_at_tdc = 0.130\ntdc_advance = 4"))
                            .engine;
  EXPECT_NEAR(*engine.lobes[0].ramp, 40 * kDegree, 1e-12);
  const Motion motion(engine);
  // Closed 133 + 40 from the centre; at TDC with the cam 4 degrees early, so 4 after TDC with the cam unmoved.
  EXPECT_EQ(motion.lift(0, (104 - 173) * kDegree), 0);
  EXPECT_GT(motion.lift(0, (104 - 171) * kDegree), 0);
  EXPECT_NEAR(motion.lift(0, 4 * kDegree), 1.6 * 0.130 * kInch, 1e-6);
}

TEST(Card, RampAndLiftAtTdcSlips) {
  const auto with = [](const std::string& more) {
    return with_intake_card("centre = 104\ndurations = [ { at = 0.050, duration = 266 } ]\n" + more);
  };
  expect_one_fault(with("tdc_advance = 4"), "4\n[lobe.exhaust]", {"of use with lift_at_tdc only"});
  expect_one_fault(with("lift_at_tdc = 0.5"), "0.5\n[lobe.exhaust]",
                   {"lobe.intake.lift_at_tdc is 0.5 in; it must be below the lobe's greatest lift, 0.43 in"});
  const std::string law = "centre = 104\nlaw = \"3-4-5\"\nlaw_duration = 300\n";
  expect_one_fault(with_intake_card(law + "lift_at_tdc = 0.1234"), "0.1234",
                   {"lobe.intake.lift_at_tdc is of use with durations or events only"});
  const auto table =
      faults_of(with_intake_card("centre = 104\ntable = \"none.csv\"\ntable_degrees = \"cam\"\ntable_angles = \"from "
                                 "centre\"\nramp_duration = 30"));
  EXPECT_THAT(table,
              ElementsAre(HasSubstr("no such file"),
                          HasSubstr("lobe.intake.ramp_duration is of use with durations or events or law only")));
}

// What only the curve shows to be wrong is told at the key that it is about.
TEST(Card, FaultsOfTheMotionFindTheirPlace) {
  const auto told = [](const std::string& text) -> std::string {
    const EngineFile file = parsed(text);
    try {
      const Motion motion(file.engine);
    } catch (const InputError& error) {
      return to_string(place(error.faults(), file.origins).at(0));
    }
    return {};
  };
  const std::string tdc =
      with_intake_card("centre = 104\ndurations = [ { at = 0.050, duration = 266 } ]\nlift_at_tdc = 0.0413");
  EXPECT_THAT(told(tdc), ::testing::StartsWith("e.toml:" + position(tdc, "0.0413") + ": lobe.intake: the lift at TDC"));
  const std::string events = with_intake_card(
      "centre = 80\nevents = [ { at = 0.400, opens = -85, closes = -60 } ]\n"
      "durations = [ { at = 0.390, duration = 40 } ]");
  EXPECT_THAT(told(events), ::testing::StartsWith("e.toml:" + position(events, "0.390") + ": lobe.intake:"));
}

std::string same_centres(const std::string& advance, const std::string& exhaust) {
  std::string text = replaced(wedge(), "centre   = 104 ", "centre = 108 #");
  text = replaced(text, "centre   = 110 ", "centre = " + exhaust + " #");
  return replaced(text, "advance = 0 ", "advance = " + advance + " ");
}

TEST(Card, ASeparationInPlaceOfBothCentres) {
  EXPECT_THAT(warnings_of(same_centres("0", "108")),
              ElementsAre(HasSubstr("lobe.intake.centre and lobe.exhaust.centre are both 108 deg: is that the cam's "
                                    "separation?")));
  EXPECT_THAT(warnings_of(same_centres("0", "108.5")), IsEmpty());
  EXPECT_THAT(warnings_of(same_centres("4", "108")), IsEmpty());
}

// like takes the card as a whole, or not at all.
TEST(Card, LikeTakesNoPartOfAnotherCard) {
  const std::string text =
      with_intake_card("events = [ { at = 0.050, opens = 29, closes = 57 } ]\nramp_duration = 40\nlift_at_tdc = 0.130");
  const auto from = text.find("[lobe.exhaust]"), to = text.find("[valve.intake]");
  const auto with = [&](const std::string& exhaust) {
    return text.substr(0, from) + "[lobe.exhaust]\nlike = \"intake\"\n" + exhaust + "\n\n" + text.substr(to);
  };
  const Lobe whole = parsed(with("")).engine.lobes[1];
  EXPECT_TRUE(whole.ramp && whole.tdc_lift);
  const Lobe own = parsed(with("centre = 110\ndurations = [ { at = 0.050, duration = 274 } ]")).engine.lobes[1];
  EXPECT_EQ(own.durations.size(), 1u);
  EXPECT_FALSE(own.ramp || own.tdc_lift);
  EXPECT_FALSE(parsed(with("centre = 110\nlaw = \"3-4-5\"\nlaw_duration = 300")).engine.lobes[1].ramp);
}

}  // namespace
}  // namespace eyebrow::testing
