// Opening and closing as a cam card has them.
#include "eyebrow/motion.hpp"
#include "spec/card_support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

const Lobe& intake(const Engine& engine) {
  return engine.lobes[0];
}

// Published workshop example: opens 20 before, closes 60 after = 260 of duration; 5 crank degrees of advance make
// 25-55, of retard 15-65. Closed form: middles at 110, 105 and 115.
TEST(Events, MakeDurationAndCentre) {
  struct {
    double opens, closes, centre;
  } const cases[] = {{20, 60, 110}, {25, 55, 105}, {15, 65, 115}};
  for (const auto& one : cases) {
    const Engine engine = parsed(with_intake_card("events = [ { at = 0.050, opens = " + std::to_string(one.opens) +
                                                  ", closes = " + std::to_string(one.closes) + " } ]"))
                              .engine;
    const Lobe& lobe = intake(engine);
    EXPECT_NEAR(lobe.centre / kDegree, one.centre, 1e-9);
    ASSERT_EQ(lobe.durations.size(), 1u);
    EXPECT_NEAR(lobe.durations[0].duration / kDegree, 260, 1e-9);
    EXPECT_NEAR(lobe.durations[0].lift, 1.27, 1e-12);
    EXPECT_EQ(lobe.durations[0].late, 0);
  }
}

// The exhaust opens before BDC and closes after TDC. Closed form: 60-20 is 110 before TDC.
TEST(Events, OfTheExhaust) {
  const std::string text = with_exhaust_card(wedge(), "events = [ { at = 0.050, opens = 60, closes = 20 } ]");
  EXPECT_NEAR(parsed(text).engine.lobes[1].centre / kDegree, 110, 1e-9);
  const std::string words =
      with_exhaust_card(wedge(), "events = [ { at = 0.050, opens = \"60 BBDC\", closes = \"20 ATDC\" } ]");
  EXPECT_EQ(dump(parsed(text).engine), dump(parsed(words).engine));
}

TEST(Events, AsCardsPrintThem) {
  const auto with = [](const std::string& opens, const std::string& closes) {
    return dump(
        parsed(with_intake_card("events = [ { at = 0.050, opens = " + opens + ", closes = " + closes + " } ]")).engine);
  };
  const std::string plain = with("-4", "37");
  for (const char* opens : {"\"4 ATDC\"", "\"4 deg ATDC\"", "\"4atdc\"", "\"-4 BTDC\"", "\"-4\"", "\"+4 ATDC\""})
    EXPECT_EQ(with(opens, "\"37 ABDC\""), plain) << opens;
  EXPECT_EQ(with("\"4 ATDC\"", "\"-37 bbdc\""), plain);
  EXPECT_NE(with("\"4 BTDC\"", "37"), plain);
}

// With the sides checked: the exhaust's words on the intake are most likely the exhaust's card.
TEST(Events, OfTheOtherCard) {
  const auto with = [](const std::string& opens, const std::string& closes) {
    return with_intake_card("events = [ { at = 0.050, opens = " + opens + ", closes = " + closes + " } ]");
  };
  expect_one_fault(with("\"71 BBDC\"", "57"), "\"71 BBDC\"",
                   {"lobe.intake.events.1.opens is \"71 BBDC\"; after its number may stand BTDC or ATDC",
                    "an intake opens about TDC; is this the exhaust's card?"});
  expect_one_fault(with("29", "\"23 ATDC\""), "\"23 ATDC\"",
                   {"after its number may stand BBDC or ABDC", "an intake closes about BDC"});
  expect_one_fault(with("\"29 BTCD\"", "57"), "\"29 BTCD\"", {"may stand BTDC or ATDC"});
  expect_one_fault(with("\"29 mm\"", "57"), "\"29 mm\"", {"must be an angle, found the unit \"mm\""});
  expect_one_fault(with_exhaust_card(wedge(), "events = [ { at = 0.050, opens = \"29 BTDC\", closes = \"57 ATDC\" } ]"),
                   "\"29 BTDC\"", {"an exhaust opens about BDC; is this the intake's card?"});
  expect_one_fault(with("\"x\"", "57"), "\"x\"", {"lobe.intake.events.1.opens", "not a number"});
  expect_one_fault(with("[1]", "57"), "[1]", {"lobe.intake.events.1.opens must be an angle, found a list"});
  expect_one_fault(with("250", "57"), "250", {"opens is 250 deg; allowed is -100 to 200 deg"});
}

// What the card says happens at the valve, wherever the centre is said to be: at 29 before TDC and 57 after BDC the
// valve stands 0.050 in times the rocker's 1.6 open.
TEST(Events, HappenAtTheirCrankAngles) {
  for (const char* centre : {"", "centre = 106\n"}) {
    const Engine engine =
        parsed(
            with_intake_card(std::string(centre) +
                             "events = [ { at = 0.050, opens = 29, closes = 57 }, { at = 0.200, opens = \"14 ATDC\", "
                             "closes = \"18 ABDC\" } ]"))
            .engine;
    const Motion motion(engine);
    EXPECT_NEAR(motion.lift(0, -29 * kDegree), 1.6 * 0.050 * kInch, 1e-6);
    EXPECT_NEAR(motion.lift(0, (180 + 57) * kDegree), 1.6 * 0.050 * kInch, 1e-6);
    EXPECT_NEAR(motion.lift(0, 14 * kDegree), 1.6 * 0.200 * kInch, 1e-6);
    EXPECT_NEAR(motion.lift(0, (180 + 18) * kDegree), 1.6 * 0.200 * kInch, 1e-6);
  }
  const Engine engine =
      parsed(with_exhaust_card(wedge(), "centre = 112\nevents = [ { at = 0.050, opens = 71, closes = 23 } ]")).engine;
  const Motion motion(engine);
  EXPECT_NEAR(motion.lift(1, (-180 - 71) * kDegree), 1.6 * 0.050 * kInch, 1e-6);
  EXPECT_NEAR(motion.lift(1, 23 * kDegree), 1.6 * 0.050 * kInch, 1e-6);
}

// Closed form: 29-57 has its middle at 104, -14-18 at 106; the higher one is the lobe centre, so the lower one's middle
// lies 2 before it. Beside a stated centre both are counted from that.
TEST(Events, TheHighestCheckingLiftPlacesTheLobe) {
  const std::string events =
      "events = [ { at = 0.200, opens = -14, closes = 18 }, { at = 0.050, opens = 29, closes = 57 } ]";
  const Engine engine = parsed(with_intake_card(events)).engine;
  EXPECT_NEAR(intake(engine).centre / kDegree, 106, 1e-9);
  EXPECT_NEAR(intake(engine).durations[0].late / kDegree, -2, 1e-9);
  EXPECT_EQ(intake(engine).durations[1].late, 0);
  const EngineFile stated = parsed(with_intake_card("centre = 103\n" + events));
  EXPECT_NEAR(stated.engine.lobes[0].centre / kDegree, 103, 1e-9);
  EXPECT_NEAR(stated.engine.lobes[0].durations[0].late / kDegree, 1, 1e-9);
  EXPECT_NEAR(stated.engine.lobes[0].durations[1].late / kDegree, 3, 1e-9);
  EXPECT_THAT(stated.warnings, IsEmpty());
  // An exhaust's centre counts back from TDC: 71-23 is 114 before it, 4 earlier than 110.
  const Engine exhaust =
      parsed(with_exhaust_card(wedge(), "centre = 110\nevents = [ { at = 0.050, opens = 71, closes = 23 } ]")).engine;
  EXPECT_NEAR(exhaust.lobes[1].durations[0].late / kDegree, -4, 1e-9);
}

TEST(Events, BesideDurations) {
  const std::string text = with_intake_card(
      "durations = [ { at = 0.020, duration = 287.7 }, { at = 0.200, duration = 182 } ]\n"
      "events = [ { at = 0.050, opens = 29, closes = 57 } ]");
  const Lobe lobe = intake(parsed(text).engine);
  ASSERT_EQ(lobe.durations.size(), 3u);
  EXPECT_NEAR(lobe.centre / kDegree, 104, 1e-9);
  EXPECT_NEAR(lobe.durations[1].duration / kDegree, 266, 1e-9);
  for (const Duration& at : lobe.durations) EXPECT_EQ(at.late, 0);
}

TEST(Events, OffTheStatedCentre) {
  const auto with = [](const std::string& centre) {
    return with_intake_card("centre = " + centre + "\nevents = [ { at = 0.050, opens = 29, closes = 57 } ]");
  };
  EXPECT_THAT(warnings_of(with("110")), IsEmpty());
  EXPECT_THAT(warnings_of(with("110.1")),
              ElementsAre(::testing::AllOf(HasSubstr("lobe.intake.centre is 110.1 deg after TDC"),
                                           HasSubstr("have their middle at 104 deg, 6.1 deg away"),
                                           HasSubstr("advance counted in"), HasSubstr("separation"))));
  EXPECT_THAT(warnings_of(with("74")).size(), 1u);
  expect_one_fault(with("73.9"), "73.9", {"middle at 104 deg, 30.1 deg away; allowed are 30"});
}

std::string on_a_cam(const std::string& separation, const std::string& text) {
  return replaced(text, "advance = 0 ", "separation = " + separation + "\nadvance = 0 ");
}

// Closed form: centres of 104 and 110 are 107 cam degrees apart.
TEST(Events, BesideASeparation) {
  const std::string both = with_exhaust_card(with_intake_card("events = [ { at = 0.050, opens = 29, closes = 57 } ]"),
                                             "events = [ { at = 0.050, opens = 67, closes = 27 } ]");
  const Engine engine = parsed(on_a_cam("108", both)).engine;
  EXPECT_NEAR(engine.lobes[0].centre / kDegree, 104, 1e-9);
  EXPECT_NEAR(engine.lobes[1].centre / kDegree, 110, 1e-9);
  EXPECT_THAT(warnings_of(on_a_cam("108", both)), IsEmpty());
  EXPECT_THAT(warnings_of(on_a_cam("108.1", both)),
              ElementsAre(HasSubstr("the separation of cam \"cam\" is 108.1 cam deg, but by the events of lobes "
                                    "\"intake\" and \"exhaust\", whose centres are 104 and 110 crank deg, it is 107")));
  // A lobe without events stands across the separation from the one with: 2 * 108 - 104.
  std::string one = with_intake_card("events = [ { at = 0.050, opens = 29, closes = 57 } ]");
  one = replaced(one, "centre   = 110 ", "#");
  EXPECT_NEAR(parsed(on_a_cam("108", one)).engine.lobes[1].centre / kDegree, 112, 1e-9);
}

TEST(Events, Slips) {
  const auto with = [](const std::string& events) { return with_intake_card("events = [ " + events + " ]"); };
  expect_one_fault(with("{ at = 0.050, opens = 29 }"), "{ at = 0.050, opens = 29 }",
                   {"missing key \"closes\" in [lobe.intake.events.1]", "intake ABDC"});
  expect_one_fault(with(""), "[  ]", {"lobe.intake.events has 0 items; allowed are 1 to 5"});
  expect_one_fault(with("{ at = 0.050, opens = 29, closes = 57 }, { at = 0.05, opens = 20, closes = 50 }"),
                   "0.05, opens", {"lobe.intake.events.2.at: 0.05 in is stated twice"});
  expect_one_fault(with("{ at = 0.050, opens = 29, closes = 57 }, { at = 0.100, opens = 31, closes = 50 }"), "31",
                   {"lobe.intake.events.2 opens no later at 0.1 in than at 0.05 in"});
  expect_one_fault(with("{ at = 0.050, opens = 29, closes = 57 }, { at = 0.100, opens = 20, closes = 58 }"), "58",
                   {"lobe.intake.events.2 closes no earlier at 0.1 in than at 0.05 in"});
  expect_one_fault(with("{ at = 0.050, opens = -90, closes = -85 }"), "-90",
                   {"lobe.intake.events.1: from opening to closing is 5 deg; allowed is 10 to 540 deg"});
  expect_one_fault(with("{ at = 0.050, opens = 29, closes = 57 } ]\ndurations = [ { at = 0.050, duration = 266 }"),
                   "0.050, opens", {"0.05 in is stated twice"});
  std::string six;
  for (int i = 1; i <= 6; ++i)
    six += (i > 1 ? ", " : "") + std::string("{ at = 0.0") + std::to_string(i) +
           ", opens = " + std::to_string(30 - 3 * i) + ", closes = " + std::to_string(60 - 3 * i) + " }";
  expect_one_fault(with(six), "[ { at = 0.01,", {"lobe.intake.events has 6 items; allowed are 1 to 5"});
  expect_one_fault(with_intake_card("table = \"x.csv\"\nevents = [ " + six + " ]"), "[lobe.intake]",
                   {"needs one of durations (or events), table, law; found events, table"});
}

// Every number of a card reaches the engine.
TEST(Events, NoNumberIsReadInVain) {
  const std::string text = with_intake_card(
      "centre = 105\nevents = [ { at = 0.050, opens = 29, closes = 57 }, { at = 0.100, opens = 14, closes = 42 } ]\n"
      "durations = [ { at = 0.3, duration = 125.8 } ]\nramp_duration = 40\nlift_at_tdc = 0.13\ntdc_advance = 2");
  const std::string before = dump(parsed(text).engine);
  const std::vector<std::pair<std::string, std::string>> other = {
      {"centre", "105.01"},         {"events.1.at", "0.0501"},         {"events.1.opens", "29.01"},
      {"events.2.closes", "42.01"}, {"durations.1.duration", "125.9"}, {"durations.1.at", "0.301"},
      {"ramp_duration", "40.01"},   {"lift_at_tdc", "0.1301"},         {"tdc_advance", "2.01"}};
  for (const auto& [key, value] : other)
    EXPECT_NE(dump(parsed(text, {{"lobe.intake." + key, value}}).engine), before) << key;
}

}  // namespace
}  // namespace eyebrow::testing
