// Engines side by side: where valves land against closed forms and the kernel, lifts against the motion.
#include "eyebrow/compare.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "eyebrow/motion.hpp"
#include "study/clock.hpp"
#include "study/disc_engine.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {
namespace {

Pocket upright_pocket(const char* name, double x, double y, double diameter) {
  Pocket made;
  made.name = name;
  made.x = x;
  made.y = y;
  made.diameter = diameter;
  made.depth = 3;
  return made;
}

// Closed form: an upright rim of radius 18 around (0, 20), a pocket of radius 20 around (1, 22). Seen from above with y
// up, the bore axis lies at -y: that is 12 o'clock, and clockwise from there comes -x. A rim point's distance from the
// pocket's axis is by Pythagoras, e.g. at 12 o'clock (0, 2) - (1, 22) = (-1, -20).
TEST(Compare, RimToWallAroundTheClockByPythagoras) {
  Engine engine = disc_engine();
  engine.piston.pockets = {upright_pocket("intake", 1, 22, 40)};
  const Landing of = landing(engine, engine.valves[0], engine, 0);
  EXPECT_EQ(of.valve, "intake");
  EXPECT_EQ(of.pocket, "intake");
  EXPECT_NEAR(of.x, -1, 1e-12);
  EXPECT_NEAR(of.y, -2, 1e-12);
  EXPECT_NEAR(of.offset(), std::sqrt(5.0), 1e-12);
  EXPECT_EQ(of.tilt_apart, 0);
  EXPECT_NEAR(of.radius_more, 2, 1e-12);
  EXPECT_NEAR(of.rim_to_wall[0], 20 - std::sqrt(401.0), 1e-12);
  EXPECT_NEAR(of.rim_to_wall[3], 20 - std::sqrt(365.0), 1e-12);
  EXPECT_NEAR(of.rim_to_wall[6], 20 - std::sqrt(257.0), 1e-12);
  EXPECT_NEAR(of.rim_to_wall[9], 20 - std::sqrt(293.0), 1e-12);
  // The valve lies off toward (-1, -2): atan(1 / 2) clockwise from 12 o'clock.
  EXPECT_NEAR(of.clock, std::atan2(1, 2) / (2 * kPi) * 12, 1e-9);
}

// The same angle seen from either side: a pocket tilted by 3 degrees more than the valve, and one that leans another
// way (spherical law of cosines).
TEST(Compare, TiltIsTheAngleBetweenTheAxes) {
  Engine engine = disc_engine();
  engine.valves[0].tilt = 12 * kDegree;
  engine.valves[0].lean = 20 * kDegree;
  engine.piston.pockets = {upright_pocket("intake", 0, 20, 40)};
  Pocket& pocket = engine.piston.pockets[0];
  pocket.tilt = 15 * kDegree;
  pocket.lean = 20 * kDegree;
  EXPECT_NEAR(landing(engine, engine.valves[0], engine, 0).tilt_apart, 3 * kDegree, 1e-12);
  pocket.lean = 80 * kDegree;
  const double cosine = std::cos(12 * kDegree) * std::cos(15 * kDegree) +
                        std::sin(12 * kDegree) * std::sin(15 * kDegree) * std::cos(60 * kDegree);
  EXPECT_NEAR(landing(engine, engine.valves[0], engine, 0).tilt_apart, std::acos(cosine), 1e-12);
}

// Closed form: a leaning valve's axis crosses the crown flat (rim height + gasket + deck) tan(tilt) from its rim, away
// from the way it leans.
TEST(Compare, LandsWhereTheAxisCrossesTheCrownFlat) {
  Engine engine = disc_engine();
  Valve& valve = engine.valves[0];
  valve.tilt = 12 * kDegree;
  valve.lean = 0;
  engine.piston.pockets = {upright_pocket("intake", 0, 20, 40)};
  const Landing of = landing(engine, valve, engine, 0);
  EXPECT_NEAR(of.x, -(5 + 1.0 + 0.2) * std::tan(12 * kDegree), 1e-12);
  EXPECT_NEAR(of.y, 0, 1e-12);
}

// The kernel's radial gap of a rim that stands in a pocket with a parallel axis, walled all around, is the difference
// of the radii less the offset square to the axis; of twelve hours the least is that or, between two of them, less than
// what 15 degrees make of the offset above it.
TEST(Compare, AgreesWithTheKernelWhereAxesAreParallel) {
  Engine engine = disc_engine();
  Valve& valve = engine.valves[0];
  valve.tilt = 3 * kDegree;
  valve.lean = 40 * kDegree;
  valve.pocket = 0;
  engine.piston.pockets = {upright_pocket("intake", 0.8, 19.5, 40)};
  Pocket& pocket = engine.piston.pockets[0];
  pocket.tilt = valve.tilt;
  pocket.lean = valve.lean;
  pocket.depth = 5;
  const Landing landed = landing(engine, valve, engine, 0);
  ASSERT_EQ(landed.tilt_apart, 0);
  const Vec3 up = up_axis(engine, valve), across{landed.x, landed.y, 0};
  const double offset = norm(across - dot(across, up) * up), least = landed.radius_more - offset;

  const Parts parts = build_parts(engine, {});
  const study::Setup setup(engine, parts);
  const ValveToPiston& query = setup.valves[0].to_piston;
  Pose pose{-(engine.gasket.thickness + engine.cylinder.deck_clearance), 0};
  GapRequest request;
  pose.lift = query.gaps(pose, request).travel.value - 1;  // a millimetre above the floor
  const Gap radial = query.gaps(pose, request).radial;
  ASSERT_TRUE(radial.measured());
  EXPECT_NEAR(radial.value, least, 1e-6);
  const double of_hours = *std::ranges::min_element(landed.rim_to_wall);
  EXPECT_GE(of_hours, least - 1e-12);
  EXPECT_LT(of_hours, least + offset * (1 - std::cos(15 * kDegree)) * 1.1);
}

TEST(Compare, HoursAreWhereTheReportTellsThem) {
  const Vec3 rim{12, -20, 0}, up = tilted_axis(12 * kDegree, 70 * kDegree);
  for (int hour = 0; hour < 12; ++hour) {
    const Vec3 way = direction_at(hour, rim, up);
    EXPECT_NEAR(dot(way, up), 0, 1e-14);
    EXPECT_NEAR(norm(way), 1, 1e-14);
    EXPECT_NEAR(std::remainder(spot_of(rim + 18 * way, rim, up).clock - hour, 12), 0, 1e-9);
  }
  EXPECT_TRUE(std::isnan(direction_at(3, {0, 0, 0}, {0, 0, 1}).x)) << "on the bore axis there is no clock";
}

TEST(Compare, AHeadOnAnotherPistonFindsThePocketThatTakesIt) {
  Engine stock = disc_engine(), swapped = disc_engine();
  stock.piston.pockets = {upright_pocket("one", 0, 20, 40), upright_pocket("two", 0, -22, 34)};
  stock.valves[0].pocket = 0;
  stock.valves[1].pocket = 1;
  swapped.piston.pockets = {upright_pocket("one", 2, 20, 40), upright_pocket("two", 0, -22, 34)};
  swapped.valves[0].pocket = 0;
  swapped.valves[1].pocket = 1;
  swapped.valves[0].name = "inlet";  // by no name that the first has: the mouth that holds it
  const auto all = landings({&stock, &swapped});
  const auto has = [&](std::size_t engine, const std::string& valve, std::size_t piston, const std::string& pocket) {
    return std::ranges::any_of(all, [&](const Landing& each) {
      return each.engine == engine && each.valve == valve && each.piston == piston && each.pocket == pocket;
    });
  };
  EXPECT_EQ(all.size(), 5u);
  EXPECT_TRUE(has(0, "intake", 0, "one"));
  EXPECT_TRUE(has(0, "exhaust", 0, "two"));
  EXPECT_TRUE(has(1, "inlet", 0, "one"));
  EXPECT_TRUE(has(1, "inlet", 1, "one"));
  EXPECT_TRUE(has(1, "exhaust", 1, "two")) << "bored alike on both: told once";
  swapped.valves[0].y = 5;
  swapped.valves[0].x = 40;
  const auto away = landings({&stock, &swapped});
  const auto lost = std::ranges::find_if(away, [](const Landing& each) { return each.valve == "inlet"; });
  ASSERT_NE(lost, away.end());
  EXPECT_EQ(lost->pocket, "") << "no mouth there holds it";
}

AskedRow made_row(const char* what, const char* valve, double required, double found, bool running = false) {
  AskedRow row;
  row.what = what;
  row.valve = valve;
  row.required = required;
  row.found = found;
  row.margin = found - required;
  row.holds = found >= required;
  row.running = running;
  return row;
}

TEST(Compare, GapsOfAllEnginesStandBesideEachOther) {
  std::vector<CheckResult> checks(2);
  checks[0].asked = {made_row("travel", "intake", 1, 2), made_row("travel", "intake", 0.5, 1, true)};
  checks[1].asked = {made_row("travel", "intake", 1.5, 1.25), made_row("piston to head", "", 1, 1.25)};
  const auto gaps = gaps_beside(checks);
  ASSERT_EQ(gaps.size(), 3u);
  EXPECT_EQ(gaps[0].name, "intake.travel");
  EXPECT_EQ(gaps[1].name, "piston.head");
  EXPECT_EQ(gaps[2].name, "intake.travel.running");
  EXPECT_EQ(gaps[0].difference(1), -0.75);
  EXPECT_EQ(gaps[0].of[1].required, 1.5);
  EXPECT_FALSE(gaps[0].of[1].holds);
  EXPECT_FALSE(gaps[1].of[0].there);
  EXPECT_TRUE(std::isnan(gaps[1].difference(1)));
  EXPECT_FALSE(gaps[2].of[1].there);
}

TEST(Compare, LiftsDifferAsTheMotionSays) {
  const Engine engine = disc_engine();
  Engine taller = engine, earlier = engine;
  taller.lobes[0].lift *= 1.1;
  earlier.cams[0].advance = 4 * kDegree;
  EXPECT_TRUE(lift_differences({&engine, &engine}).empty());

  const auto more = lift_differences({&engine, &taller});
  ASSERT_EQ(more.size(), 1u) << "the exhaust's lobe is the same";
  EXPECT_EQ(more[0].valve, "intake");
  // A tenth of 10 mm at the peak, 106 ATDC.
  EXPECT_NEAR(more[0].most, 1, 1e-9);
  EXPECT_NEAR(more[0].crank, 106 * kDegree, 1e-9);
  const double at_30 = 0.1 * Motion(engine).lift(0, 30 * kDegree);
  EXPECT_NEAR(more[0].near_tdc, at_30, 1e-9) << "an intake lobe rises through overlap";
  EXPECT_NEAR(more[0].near_crank, 30 * kDegree, 1e-9);

  const auto moved = lift_differences({&engine, &taller, &earlier});
  ASSERT_EQ(moved.size(), 3u);
  EXPECT_EQ(moved[1].engine, 2u);
  EXPECT_GT(moved[1].near_tdc, 0) << "an earlier intake is further open";
  EXPECT_LT(moved[2].near_tdc, 0) << "an earlier exhaust is further closed";
}

TEST(Compare, TheVerdictIsTheWorstEngines) {
  Comparison of;
  of.checks.resize(2);
  EXPECT_EQ(of.verdict(), Verdict::holds);
  of.checks[1].verdict = Verdict::short_;
  EXPECT_EQ(of.verdict(), Verdict::short_);
  of.checks[0].verdict = Verdict::contact;
  EXPECT_EQ(of.verdict(), Verdict::contact);
}

}  // namespace
}  // namespace eyebrow::study
