// From the user's numbers to what each cause takes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "eyebrow/engine.hpp"
#include "motion/running_formulas.hpp"

namespace eyebrow {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// An invented engine of two valves, on one cam.
Engine engine() {
  Engine e;
  e.cylinder.bore = 100;
  e.cylinder.stroke = 88.4;
  e.cylinder.rod_length = 144.8;
  e.cylinder.compression_height = 32;
  e.cylinder.block_deck_height = 221;
  e.gasket.thickness = 1.0;
  e.cams = {{"only", 0}};
  Lobe in, ex;
  in.name = "in";
  in.cam = ex.cam = "only";
  in.lift = 8;
  ex.name = "ex";
  ex.role = Role::exhaust;
  ex.measured = LiftAt::valve;
  ex.lift = 11;
  e.lobes = {in, ex};
  Valve intake, exhaust;
  intake.name = intake.lobe = "in";
  intake.head_diameter = 50;
  intake.stem_diameter = 8;
  intake.rocker_ratio = 1.5;
  intake.lash = 0.3;
  exhaust.name = exhaust.lobe = "ex";
  exhaust.role = Role::exhaust;
  exhaust.head_diameter = 40;
  exhaust.stem_diameter = 8;
  exhaust.rocker_ratio = 1.6;
  exhaust.lash = 0.4;
  e.valves = {intake, exhaust};
  e.running.emplace();
  return e;
}

Allowance one(const Engine& e, const std::string& name) {
  const auto all = allowances(e);
  const auto found = std::find_if(all.begin(), all.end(), [&](const Allowance& a) { return a.name == name; });
  EXPECT_NE(found, all.end()) << name;
  return found == all.end() ? Allowance{} : *found;
}

bool takes_nothing(const Allowance& a) {
  const auto zero = [](const std::vector<double>& v) { return std::count(v.begin(), v.end(), 0.0) == 2; };
  return a.piston_up == 0 && a.gasket == 0 && a.rock == 0 && a.rock_shift == 0 && zero(a.early) && zero(a.late) &&
         zero(a.lift) && zero(a.sideways);
}

TEST(Allowances, NoneWithoutRunning) {
  Engine e = engine();
  e.running.reset();
  EXPECT_TRUE(allowances(e).empty());
}

TEST(Allowances, EveryCauseThatIsNotStatedIsToldAndCountsNothing) {
  const auto all = allowances(engine());
  EXPECT_EQ(all.size(), 12u);
  for (const Allowance& a : all) {
    EXPECT_TRUE(takes_nothing(a)) << a.name;
    EXPECT_FALSE(a.on) << a.name;
    EXPECT_FALSE(a.note.empty()) << a.name;
    EXPECT_EQ(a.stated, a.name == "running lash");
  }
}

TEST(Allowances, RodStretch) {
  Engine e = engine();
  RodStretch rod;
  rod.rpm = 7000;
  rod.piston_mass = 0.5;
  rod.small_end_mass = 0.2;
  rod.section = 250;
  rod.modulus = 207e3;
  rod.material = "steel";
  rod.source = "own scale";
  e.running->rod_stretch = rod;
  // By hand: see RunningFormulas.PullAndStretchByHand.
  EXPECT_NEAR(one(e, "rod stretch").piston_up, 0.060717, 5e-6);
  EXPECT_THAT(one(e, "rod stretch").source,
              ::testing::AllOf(HasSubstr("computed: 0.7 kg (0.2 kg of it the rod's) pull 21.7 kN at 7000 rpm"),
                               HasSubstr("steel, 207 GPa"), HasSubstr("; own scale")));
  // Of a whole rod 40 % count: 0.5 kg makes the same 0.2 kg.
  e.running->rod_stretch->small_end_mass.reset();
  e.running->rod_stretch->rod_mass = 0.5;
  EXPECT_NEAR(one(e, "rod stretch").piston_up, 0.060717, 5e-6);
  e.running->rod_stretch->use = false;
  EXPECT_FALSE(one(e, "rod stretch").on);
  EXPECT_GT(one(e, "rod stretch").piston_up, 0) << "shown";
  e.running->rod_stretch->given = 0.15;
  EXPECT_EQ(one(e, "rod stretch").piston_up, 0.15);
  EXPECT_EQ(one(e, "rod stretch").source, "given; own scale");
}

TEST(Allowances, BearingsAreTakenUpInFull) {
  Engine e = engine();
  e.running->bearings = BearingPlay{{}, 0.06, 0.05, 0.02};
  EXPECT_NEAR(one(e, "bearing clearances").piston_up, 0.13, 1e-12);
}

TEST(Allowances, Growth) {
  Engine e = engine();
  Growth growth;
  growth.crank_warmer = 70;
  growth.rod = {70, 12.3e-6, "steel"};
  growth.piston = {150, 23.4e-6, "aluminium"};
  growth.block = {70, 10.6e-6, "iron"};
  e.running->growth = growth;
  // By hand: throw 44.2 * 12.3e-6 * 70 = 0.038056; rod 144.8 * 12.3e-6 * 70 = 0.124673; piston 32 * 23.4e-6 * 150 =
  // 0.112320; block 221 * 10.6e-6 * 70 = 0.163982. Sum less block: 0.111067.
  EXPECT_NEAR(one(e, "growth with heat").piston_up, 0.111067, 1e-6);
  // An aluminium block grows more than all of it: 221 * 21.5e-6 * 70 = 0.332605, that is 0.057556 more.
  e.running->growth->block = {70, 21.5e-6, "aluminium"};
  EXPECT_EQ(one(e, "growth with heat").piston_up, 0);
  EXPECT_THAT(one(e, "growth with heat").note, HasSubstr("the block grows 0.058 mm (0.0023 in) more"));
  e.running->growth->given = 0.2;
  EXPECT_EQ(one(e, "growth with heat").piston_up, 0.2);
}

// Published (solved problem of a physics course): 15 m of iron, 12e-6 /K, from 20 to 150 degrees C grow 0.0234 m.
TEST(Allowances, GrowthOfAPublishedBar) {
  Engine e = engine();
  e.cylinder.rod_length = 15000;
  Growth growth;
  growth.rod = {130, 12e-6, ""};
  e.running->growth = growth;
  EXPECT_NEAR(one(e, "growth with heat").piston_up, 23.4, 1e-9);
}

TEST(Allowances, Rock) {
  Engine e = engine();
  Rock rock;
  rock.skirt_clearance = 0.08;
  rock.skirt_length = 50;
  e.running->rock = rock;
  // Closed form: 0.08 / 50 rad and a little more; half of the clearance.
  EXPECT_NEAR(one(e, "piston rock").rock, 0.0016, 5e-6);
  EXPECT_NEAR(one(e, "piston rock").rock_shift, 0.04, 1e-4);
  EXPECT_GE(one(e, "piston rock").rock_shift, 0.04);
  EXPECT_EQ(one(e, "piston rock").pin_below_crown, 32);
  e.running->rock->angle = 0.003;
  e.running->rock->shift = 0.1;
  EXPECT_EQ(one(e, "piston rock").rock, 0.003);
  EXPECT_EQ(one(e, "piston rock").rock_shift, 0.1);
}

TEST(Allowances, LeanAndShiftTogetherHoldEveryPlaceOfTheSkirt) {
  // Every lean up to the greatest, every place of the skirt that the bore then leaves, pins anywhere along the skirt:
  // the pin's own place and the lean never pass what the allowance says.
  Engine e = engine();
  for (const double clearance : {0.05, 0.3, 0.8}) {
    for (const double s : {20.0, 45.0, 90.0}) {
      Rock rock;
      rock.skirt_clearance = clearance;
      rock.skirt_length = s;
      e.running->rock = rock;
      const Allowance a = one(e, "piston rock");
      const double d = 100 - clearance;
      for (int i = 0; i <= 50; ++i) {
        const double lean = a.rock * i / 50;
        const double room = 50 - (d / 2 * std::cos(lean) + s / 2 * std::sin(lean));  // of the middle, either way
        EXPECT_GE(room, -1e-9);
        for (const double pin : {-s / 2, 0.0, s / 2})
          EXPECT_LE(room + std::fabs(pin) * std::sin(lean), a.rock_shift + 1e-9) << "pin " << pin;
      }
    }
  }
}

TEST(Allowances, ThinnerGasket) {
  Engine e = engine();
  e.running->gasket = ThinGasket{{}, 0.95};
  EXPECT_NEAR(one(e, "thinner gasket").gasket, 0.05, 1e-12);
}

TEST(Allowances, GuidePlayTakesTheLeverAtFullLift) {
  Engine e = engine();
  GuidePlay guides;
  guides.play = 0.05;
  guides.guide_length = 45;
  guides.overhang = 35;
  e.running->intake_guides = guides;
  const Allowance a = one(e, "guide play, intake");
  // Closed form: 8 * 1.5 = 12 mm of lift: 0.05 (1/2 + 47/45) = 0.07722; 25 * 0.05/45 = 0.02778.
  EXPECT_NEAR(a.sideways[0], 0.07722, 1e-4);
  EXPECT_NEAR(a.lift[0], 0.02778, 1e-4);
  EXPECT_EQ(a.sideways[1], 0);
  EXPECT_FALSE(one(e, "guide play, exhaust").stated);
  e.running->exhaust_guides = guides;
  // Lifts measured at the valve: 11 mm as they are.
  EXPECT_NEAR(one(e, "guide play, exhaust").sideways[1], 0.05 * (0.5 + 46.0 / 45), 1e-4);
  e.running->exhaust_guides->sideways = 0.2;
  e.running->exhaust_guides->dip = 0.1;
  EXPECT_THAT(one(e, "guide play, exhaust").sideways, ElementsAre(0, 0.2));
  EXPECT_THAT(one(e, "guide play, exhaust").lift, ElementsAre(0, 0.1));
}

TEST(Allowances, LoftSlackAndPumpUp) {
  Engine e = engine();
  e.running->exhaust_loft = Loft{{}, 0.05, 0.4};
  EXPECT_THAT(one(e, "loft, exhaust").late, ElementsAre(0, 0.05));
  EXPECT_THAT(one(e, "loft, exhaust").lift, ElementsAre(0, 0.4));
  e.running->slack["only"] = DriveSlack{{}, 0.01, 0.03};
  EXPECT_THAT(one(e, "slack of the cam's drive").early, ElementsAre(0.01, 0.01));
  EXPECT_THAT(one(e, "slack of the cam's drive").late, ElementsAre(0.03, 0.03));
  e.running->pump_up = PumpUp{{}, std::nullopt, 0.8};
  const auto lift = one(e, "hydraulic lifters pumped up").lift;
  EXPECT_NEAR(lift[0], 0.8 * 1.5, 1e-12);
  EXPECT_NEAR(lift[1], 0.8 * 1.6, 1e-12);
  // Closed form: between two rows, level at both, the ratio is 1.5 + 0.2 u^2 (3 - 2 u); at u = 0.5 and 4 mm the valve
  // moves by 1.6 + 4 * 0.2 * 1.5 / 4 = 1.9 a mm of the lobe, and nowhere by less than at the table's ends.
  e.valves[0].rocker_table = {{2, 1.5}, {6, 1.7}};
  EXPECT_GE(one(e, "hydraulic lifters pumped up").lift[0], 0.8 * 1.9);
  EXPECT_LE(one(e, "hydraulic lifters pumped up").lift[0], 0.8 * 2.0);
  e.running->pump_up->lift = 0.9;
  EXPECT_THAT(one(e, "hydraulic lifters pumped up").lift, ElementsAre(0.9, 0.9));
}

TEST(Allowances, EachCamHasItsOwnSlack) {
  Engine e = engine();
  e.cams = {{"a", 0}, {"b", 0}};
  e.lobes[0].cam = "a";
  e.lobes[1].cam = "b";
  e.running->slack["a"] = DriveSlack{{}, 0, 0.02};
  e.running->slack["b"] = DriveSlack{{}, 0, 0.04};
  EXPECT_THAT(one(e, "slack of the drive of a").late, ElementsAre(0.02, 0));
  EXPECT_THAT(one(e, "slack of the drive of b").late, ElementsAre(0, 0.04));
}

TEST(Allowances, RunningLashIsShownAndNeverCounted) {
  const Allowance a = one(engine(), "running lash");
  EXPECT_FALSE(a.on);
  EXPECT_TRUE(takes_nothing(a));
  EXPECT_THAT(a.note, ::testing::AllOf(HasSubstr("in 0.300 mm"), HasSubstr("ex 0.400 mm"), HasSubstr("not credited")));
}

}  // namespace
}  // namespace eyebrow
